// What is not to be read whole, or not to be reached, for want of room to the side, as the page stands; in words, none where all is well.
() => {
  const SLACK = 1.5; // px that letters may reach beyond the lines that they stand in
  const CLIPPING = ["hidden", "clip", "auto", "scroll"];
  // What is as wide as a sheet of paper is looked at in two dimensions (WCAG 2.2, 1.4.10).
  const inSight = (element) => element.checkVisibility({ visibilityProperty: true }) && !element.closest(".unseen, [inert], [data-wide]");
  const called = (element) => `${element.tagName.toLowerCase()}${element.classList.length ? `.${[...element.classList].join(".")}` : ""}`;
  const around = (element) => (element ? [element, ...around(element.parentElement)] : []);
  const top = document.querySelector("dialog[open]") ?? document.body;
  const all = [...top.querySelectorAll("*")].filter(inSight);
  const found = [];

  for (const box of [document.scrollingElement, ...all]) {
    const scrolls = box === document.scrollingElement || ["auto", "scroll"].includes(getComputedStyle(box).overflowX);
    if (scrolls && box.clientWidth > 0 && box.scrollWidth > box.clientWidth + 1) found.push(`${called(box)} scrolls sideways: ${box.scrollWidth} in ${box.clientWidth}`);
  }

  const controls = all.filter((element) => element.matches("a, button, input, select, textarea, summary, [tabindex]"));
  for (const control of controls) {
    const { left, right } = control.getBoundingClientRect();
    if (left < -SLACK || right > innerWidth + SLACK) found.push(`${called(control)} “${control.textContent.slice(0, 30)}” is out of sight: ${left} to ${right} of ${innerWidth}`);
  }

  // The lines of each text against whatever cuts off what sticks out of it, and against the button or link that it stands on.
  const texts = document.createTreeWalker(top, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const { currentNode: text } = texts;
    const parent = text.parentElement;
    if (!text.data.trim() || !inSight(parent) || parent.matches("option, title, desc")) continue;
    const range = document.createRange();
    range.selectNodeContents(text);
    const drawn = Boolean(parent.ownerSVGElement);
    const lines = drawn ? [parent.getBoundingClientRect()] : [...range.getClientRects()];
    for (const line of lines) {
      if (line.left < -SLACK || line.right > innerWidth + SLACK) found.push(`“${text.data.slice(0, 40)}” sticks out of the screen: ${line.left} to ${line.right} of ${innerWidth}`);
    }
    for (const box of around(parent)) {
      const { overflowX, overflowY } = getComputedStyle(box);
      const edge = box.getBoundingClientRect();
      const wide = CLIPPING.includes(overflowX) && !(box instanceof SVGElement) && box !== document.documentElement && box !== document.body;
      const high = wide && ["hidden", "clip"].includes(overflowY);
      const holds = box.matches("button, .tabs a, .chip");
      for (const line of lines) {
        if ((wide || holds) && (line.left < edge.left - SLACK || line.right > edge.right + SLACK)) found.push(`“${text.data.slice(0, 40)}” is cut off by ${called(box)}: ${line.left} to ${line.right} in ${edge.left} to ${edge.right}`);
        const deep = 0.2 * line.height; // of a line's height its letters leave as much free above and below
        if ((high || holds) && (line.top < edge.top - deep || line.bottom > edge.bottom + deep)) found.push(`“${text.data.slice(0, 40)}” is cut off by ${called(box)}: ${line.top} to ${line.bottom} in ${edge.top} to ${edge.bottom}`);
      }
    }
  }

  // What is chosen in a list: a list with nothing else in it is as wide as that needs.
  for (const list of all.filter((element) => element.matches("select"))) {
    const alone = list.cloneNode(false);
    alone.append(list.selectedOptions[0].cloneNode(true));
    alone.style.cssText = "position: absolute; visibility: hidden; width: max-content; min-width: 0; max-width: none";
    list.after(alone);
    const [needs, has] = [alone.getBoundingClientRect().width, list.getBoundingClientRect().width];
    alone.remove();
    if (needs > has + 1) found.push(`“${list.selectedOptions[0].textContent}” is cut off in its list: ${needs} in ${has}`);
  }

  // What stands in a field: the user's own, or what is proposed.
  for (const field of all.filter((element) => element.matches("input.entry, textarea.entry"))) {
    if (field.clientWidth > 0 && field.scrollWidth > field.clientWidth + 1) found.push(`“${field.value}” is cut off in its field: ${field.scrollWidth} in ${field.clientWidth}`);
  }
  return found;
}
