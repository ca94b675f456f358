"""Scripts written by hand after the guide's contract, without drawings: the paper cutter itself is tried on them."""

USUAL = {"name": "usual", "width": 6, "length": 24, "tick": 0.125, "angles": [{"degrees": 60}]}


def step(do: str, say: str | None = None, gives: int = 0, strip: int = 0, **values) -> dict:
    """A step; `from_` stands for the value `from`."""
    values = {name.removesuffix("_"): value for name, value in values.items()}
    return {"do": do, "say": say or do, "values": values, "gives": gives, "strip": strip, "cloth": 0, "at": 0}


def script(*steps, pieces=("piece",), strips=(("piece", "length"),), lay="along", hand="right") -> dict:
    return {
        "hand": hand,
        "lay": lay,
        "pieces": [{"id": piece, "counted": True} for piece in pieces],
        "strips": [{"piece": piece, "grain": grain} for piece, grain in strips],
        "steps": [*steps, step("done")],
    }


def line(distance: float) -> dict:
    """A distance read off the one ruler there is."""
    return {"measure": distance, "distance": distance, "reads": "line", "ruler": "usual"}


def strips(n: int, size: float, run: float, **more) -> list[dict]:
    return [
        step("strip", "strip_line", size=size, k=k, of=n, run=run, **line(size), from_="left", **more)
        for k in range(1, n + 1)
    ]


def diamonds(
    n: int,
    size: float,
    run: float,
    end: str = "raw",
    starter: str = "start_angle_line",
    strip: int = 0,
    others: bool = False,
) -> list[dict]:
    """One strip cut into diamonds at 60°."""
    waste = size / 3**0.5
    return [
        step("lay", "take", size=size, run=run, layers=1, up="right", end=end, at="right", other_runs=others, which="by_length" if others else "by_width", head_down=False),
        step("starter", starter, at="right", angle_ruler="usual", degrees=60.0, laid_on="bottom", corner="top", other="bottom", waste=waste),
        step("turn", "turn_strip", at="left"),
        *(step("piece", "cut_both_lines", k=k, of=n, lean="as_last", degrees=60.0, laid_on="bottom", corner=None, **line(size), gives=1, strip=strip) for k in range(1, n + 1)),
        step("strip_done", n=n, pile=None),
    ]  # fmt: skip


def fat_quarter() -> dict:
    """15 diamonds of 4 in from 18 × 20, nothing to spare across."""
    return script(
        step("press", length=18.0, width=20.0),
        step("place", "place_selvage", run=18.0, across=20.0, selvage="right", grain="lengthwise", runs="strips"),
        step("measure", across=20.0, run=18.0, from_="left"),
        step("check_edge", at="left"),
        *strips(5, 4.0, 18.0),
        *(one for _ in range(5) for one in diamonds(3, 4.0, 18.0)),
    )


def folded() -> dict:
    """Two strips of 4 in from selvage to selvage of 9 × 42, folded once; the starter cut just inside the selvage."""
    return script(
        step("press", length=9.0, width=42.0),
        step("place", "place_selvages", run=42.0, across=9.0, selvage="top", grain="crosswise", runs="strips"),
        step("fold", "fold_selvages", before=42.0, after=21.0, fold="bottom"),
        step("measure", across=8.25, run=21.0, from_="right"),
        step("square", "square_edge", at="right", most=0.25),
        step("half_turn", edge="left", fold="top"),
        *strips(2, 4.0, 42.0),
        step("unfold", "unfold_strips", strips=2, size=4.0, run=42.0),
        *(one for _ in range(2) for one in diamonds(8, 4.0, 42.0, "selvage", "start_angle_line_selvage")),
        strips=(("piece", "width"),),
    )


def divided() -> dict:
    """18 × 20 divided at 8 in: two strips of 4 in × 18 from one part, four of 4 in × 12 from the other."""
    return script(
        step("press", length=18.0, width=20.0),
        step("place", "place_selvage", run=18.0, across=20.0, selvage="right", grain="lengthwise", runs="strips"),
        step("measure", across=20.0, run=18.0, from_="left"),
        step("check_edge", at="left"),
        step("divide", "divide_line", at=8.0, run=18.0, **line(8.0), from_="left"),
        step("take_part", from_="left", run=18.0, across=8.0, turn=None, edge="right", selvage=None),
        *strips(2, 4.0, 18.0),
        step(
            "take_part",
            "take_part_turned",
            from_="right",
            run=12.0,
            across=18.0,
            turn="anticlockwise",
            edge="bottom",
            selvage="top",
        ),
        step("check_edge", at="left"),
        *strips(4, 4.0, 12.0),
        *(one for _ in range(2) for one in diamonds(3, 4.0, 18.0, others=True)),
        *(one for _ in range(4) for one in diamonds(2, 4.0, 12.0, end="cut", strip=1)),
        strips=(("piece", "length"), ("piece", "width")),
    )


def triangles() -> dict:
    """One strip of 3 in × 20 into triangles of 60°, tip down and tip up by turns."""
    turns = ("top", "bottom")  # after the half turn the last cut leans right: the first triangle has its tip at the top
    return script(
        step("press", length=3.0, width=20.0),
        step("place", run=20.0, across=3.0, selvage=None, grain="unknown", runs="strips"),
        step("measure", across=3.0, run=20.0, from_="left"),
        step("check_edge", at="left"),
        *strips(1, 3.0, 20.0),
        step("lay", "take", size=3.0, run=20.0, layers=1, up="right", end="raw", at="right", other_runs=False, which="by_width", head_down=False),
        step("starter", "start_angle_line", at="right", angle_ruler="usual", degrees=60.0, laid_on="bottom", corner="top", other="bottom", waste=3 / 3**0.5),
        step("turn", "turn_strip", at="left"),
        *(step("piece", "cut_corner_and_angle", k=k, of=10, lean="other_way", degrees=60.0, laid_on="bottom", corner=turns[k % 2 - 1], measure=None, gives=1) for k in range(1, 11)),
        step("strip_done", n=10, pile=None),
        strips=(("piece", "width"),),
    )  # fmt: skip


def halved() -> dict:
    """A strip of 3 in × 10 into two rectangles of 5 in, one cut corner to corner each way."""
    return script(
        step("press", length=10.0, width=3.0),
        step("place", run=10.0, across=3.0, selvage=None, grain="unknown", runs="strips"),
        step("measure", across=3.0, run=10.0, from_="left"),
        step("check_edge", at="left"),
        *strips(1, 3.0, 10.0),
        step("lay", "take", size=3.0, run=10.0, layers=1, up="right", end="raw", at="left", other_runs=False, which="by_width", head_down=False),
        step("end", "end_check", at="left"),
        *(one for k, way in ((1, ("lower_left", "upper_right")), (2, ("lower_right", "upper_left"))) for one in (
            step("cut_off", "cut_square", k=k, of=2, lean="as_last", degrees=None, corner=None, **line(5.0)),
            step("halve", n=1, first=way[0], second=way[1], gives=2),
        )),
        step("strip_done", n=4, pile=None),
    )  # fmt: skip
