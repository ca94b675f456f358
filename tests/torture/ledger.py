"""What was attempted, what was shown and what was found again: acknowledged ⊆ recovered ⊆ attempted, none twice."""

from dataclasses import asdict, dataclass, field


@dataclass
class Account:
    """One sitting: the marks that were found last, and how many acts were shown and attempted since."""

    marks: list[str] = field(default_factory=list)
    attempted: int = 0
    shown: int = 0
    begun: bool = False


@dataclass
class Ledger:
    """All sittings of one profile. `lost` lists what should not be, in words."""

    accounts: dict[str, Account] = field(default_factory=dict)
    current: str | None = None
    lost: list[str] = field(default_factory=list)
    brought_back: int = 0

    def kept(self) -> dict:
        """All of it as plain values, to go on with another time."""
        return asdict(self)

    @classmethod
    def of(cls, kept: dict) -> "Ledger":
        """The ledger that was kept so."""
        return cls(**{**kept, "accounts": {name: Account(**account) for name, account in kept["accounts"].items()}})

    def begin(self, sitting: str) -> None:
        """A sitting is about to be made."""
        self.accounts[sitting] = Account()
        self.current = sitting

    def begun(self, sitting: str) -> None:
        """It is stored, as the page was told."""
        self.accounts[sitting].begun = True

    def attempt(self) -> None:
        """An act is about to be done at the mat."""
        self.accounts[self.current].attempted += 1

    def shown(self) -> None:
        """The page shows what the act has led to."""
        self.accounts[self.current].shown += 1

    def found(self, sittings: list[dict], second: dict[str, int], notice: str) -> None:
        """Holds what a new start finds against what was attempted and shown before it, and against how many events of
        each sitting stand in the second place: what is shown once must outlive the database."""
        behind = [each["id"] for each in sittings if len(each["events"]) > second.get(each["id"], -1)]
        self.lost += [f"{sitting}: the second place is behind what is shown" for sitting in behind]
        there = {each["id"]: each["events"] for each in sittings}
        for sitting, account in list(self.accounts.items()):
            if sitting not in there:
                if account.begun or account.marks:
                    self.lost.append(
                        f"the sitting {sitting} is gone, with {len(account.marks) + account.shown} acts that were shown"
                    )
                del self.accounts[sitting]
            else:
                self._hold(sitting, account, sorted(there[sitting], key=lambda event: event["sequence"]))
        self.brought_back += "brought back" in notice
        if self.current not in self.accounts:
            self.current = None

    def _hold(self, sitting: str, account: Account, events: list[dict]) -> None:
        marks = [event["mark"] for event in events]
        before = len(account.marks)
        if [event["sequence"] for event in events] != list(range(len(events))) or len(set(marks)) != len(marks):
            self.lost.append(f"{sitting}: an event twice, or a hole: {events}")
        if marks[:before] != account.marks:
            self.lost.append(f"{sitting}: what had been found before is not there any more")
        if not before + account.shown <= len(marks) <= before + account.attempted:
            self.lost.append(
                f"{sitting}: {account.shown} shown, {account.attempted} attempted, {len(marks) - before} found"
            )
        account.marks, account.attempted, account.shown, account.begun = marks, 0, 0, True
