"""What is measured in the page itself: sizes of letters and targets, contrast, and what sticks out of the screen."""

from playwright.sync_api import Page

# Every text that can be seen at the mat or in the dialog over it, with its size in px and its contrast by WCAG 2.2. A
# label in a drawing stands on its own outline of paper.
_TEXTS = """() => {
  const canvas = new OffscreenCanvas(1, 1).getContext('2d', { willReadFrequently: true });
  const rgba = (colour) => {
    canvas.clearRect(0, 0, 1, 1);
    canvas.fillStyle = colour;
    canvas.fillRect(0, 0, 1, 1);
    const [r, g, b, a] = canvas.getImageData(0, 0, 1, 1).data;
    return [r, g, b, a / 255];
  };
  const over = ([r, g, b, a], [R, G, B]) => [r * a + R * (1 - a), g * a + G * (1 - a), b * a + B * (1 - a), 1];
  const ground = (element) => {
    const paint = rgba(getComputedStyle(element).backgroundColor);
    if (paint[3] === 1) return paint;
    return over(paint, element.parentElement ? ground(element.parentElement) : [255, 255, 255, 1]);
  };
  const faded = (element) => (element ? Number(getComputedStyle(element).opacity) * faded(element.parentElement) : 1);
  const light = ([r, g, b]) => [r, g, b].map((part) => part / 255).map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4))
    .reduce((sum, part, i) => sum + part * [0.2126, 0.7152, 0.0722][i], 0);
  const contrast = (one, other) => {
    const [low, high] = [light(one), light(other)].sort((a, b) => a - b);
    return (high + 0.05) / (low + 0.05);
  };
  const root = document.querySelector('dialog[open]') ?? document.querySelector('mat-view');
  const texts = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
  const found = [];
  while (texts.nextNode()) {
    const element = texts.currentNode.parentElement;
    const box = element.getBoundingClientRect();
    if (!texts.currentNode.data.trim() || !element.checkVisibility() || box.width <= 1) continue;
    const style = getComputedStyle(element);
    const drawn = element.ownerSVGElement !== undefined && element.ownerSVGElement !== null;
    const { a, b } = drawn ? element.getScreenCTM() : { a: 1, b: 0 };
    const behind = drawn ? rgba(style.stroke) : ground(element);
    const [red, green, blue, alpha] = rgba(drawn ? style.fill : style.color);
    found.push({
      text: texts.currentNode.data.trim(),
      size: parseFloat(style.fontSize) * Math.hypot(a, b),
      contrast: contrast(over([red, green, blue, alpha * faded(element)], behind), behind),
    });
  }
  return found;
}"""

_TARGETS = """() => [...document.querySelectorAll('a, button, input, select, textarea, summary, [role=button]')]
  .filter((element) => element.checkVisibility() && !element.closest('[inert]') && !element.matches('p a'))
  .filter((element) => !document.querySelector('dialog[open]') || element.closest('dialog[open]'))
  .map((element) => [element, (element.closest('label') ?? element).getBoundingClientRect()])
  .filter(([, box]) => box.width > 1 && (box.width < 43.99 || box.height < 43.99))
  .map(([element, box]) => `${element.outerHTML.slice(0, 90)} ${box.width.toFixed(1)}×${box.height.toFixed(1)}`)"""

# What can be scrolled sideways: the page itself, or anything in it that shows what sticks out of it.
_SIDEWAYS = """() => [document.scrollingElement, ...document.querySelectorAll('body *')]
  .filter((element) => element.checkVisibility() && !element.closest('svg, [data-wide]') && element.scrollWidth > element.clientWidth + 1)
  .filter((element) => element === document.scrollingElement || ['auto', 'scroll'].includes(getComputedStyle(element).overflowX))
  .filter((element) => element.clientWidth > 0)
  .map((element) => `${element.tagName}.${element.className} ${element.scrollWidth} > ${element.clientWidth}`)"""


def texts_at_the_mat(page: Page) -> list[dict]:
    """Every text at the mat, or in the dialog over it: {text, size, contrast}."""
    return page.evaluate(_TEXTS)


def small_targets(page: Page) -> list[str]:
    """What can be tapped and is below 44 px one way, links in a sentence left aside (WCAG 2.2, 2.5.5)."""
    return page.evaluate(_TARGETS)


def sideways(page: Page) -> list[str]:
    """What would have to be scrolled sideways (WCAG 2.2, 1.4.10), a sheet of paper as it is printed left aside: parts that
    need two dimensions for what they mean are excepted there.
    """
    return page.evaluate(_SIDEWAYS)
