// What a plan is, in a few lines: to be looked at before it takes the place of another, or is passed on.

import { h, refill } from "../lib/page/dom.js";
import { withUnit } from "../lib/words/measure.js";
import { fabricMark } from "./fabric-mark.js";

/** Shows a `plan` as it is passed on, with a `picture` of its quilt where there is one, under a `title`. */
export class PlanTold extends HTMLElement {
  show({ plan, picture = null, title, words }) {
    refill(
      this,
      h(
        "section",
        { class: "card plan-told" },
        h("h2", {}, title),
        plan.title && h("p", { class: "lead" }, plan.title),
        picture,
        h(
          "ul",
          { class: "facts" },
          linesOf(plan, words).map((line) => h("li", {}, line)),
        ),
        h("ul", { class: "plan-fabrics" }, plan.quilt.fabrics.map(fabric)),
      ),
    );
  }
}

function fabric({ name, colour, one_way: oneWay }) {
  return h("li", {}, fabricMark(colour, Boolean(oneWay)), h("span", {}, name));
}

function linesOf(plan, words) {
  const say = (code, values) => words.say(`passing.told.${code}`, values);
  const { quilt, basket, layouts = { cut: [] }, rulers = [], date, by } = plan;
  const cloths = basket.cloths.reduce((sum, { count }) => sum + (Number(count) || 0), 0);
  const names = quilt.class.names
    .split(",")
    .map((name) => name.trim())
    .filter(Boolean);
  return [
    date && say("date", { date }),
    by && say("by", { by }),
    words.has(`quilt.setting.${quilt.setting}`) && words.say(`quilt.setting.${quilt.setting}`),
    pieceOf(plan, words),
    sizeOf(plan, say),
    cloths > 0 && say("cloths", { n: cloths }),
    layouts.cut.length > 0 && say("layouts"),
    rulers.length > 0 && say("rulers", { rulers: words.list(rulers.map(({ name }) => name)) }),
    names.length > 0 && say("names", { names: words.list(names) }),
  ].filter(Boolean);
}

function pieceOf({ quilt: { piece }, units }, words) {
  const short = words.has(`page.measure.${piece.measure}.short`) && piece.measure !== "size";
  const size = withUnit(String(piece.text), units);
  const said = short ? `${words.say(`page.measure.${piece.measure}.short`)} ${size}` : size;
  const told = words.say("page.slot.piece_told", { size: said, angle: piece.angle });
  return words.say("join.labeled", { label: words.say("page.slot.piece"), what: told });
}

function sizeOf({ quilt, units }, say) {
  const { by, target = {}, steps = {}, have } = quilt;
  if (by === "steps") return say("steps", { columns: steps.columns, rows: steps.rows });
  if (by === "have") return say("have", { have });
  const side = (name) => withUnit(String(target[name] ?? ""), units);
  return target.width && target.height && say("size", { width: side("width"), height: side("height") });
}

customElements.define("plan-told", PlanTold);
