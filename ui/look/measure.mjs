// What is measured on a screen. Runs in the page, so it stands alone.

/** Returns what is too small, too near or too wide, in sentences. */
export function measure() {
  const TARGET = 48;
  const BETWEEN = 8;
  const EDGE = 2.5;
  const found = [];
  const name = (element) => element.dataset.testid ?? element.textContent.trim().slice(0, 30);

  /** How far a text ends from the frame of its button, sideways. */
  const roomIn = (button, text) => {
    const range = document.createRange();
    range.selectNodeContents(text);
    const inner = range.getBoundingClientRect();
    const outer = button.getBoundingClientRect();
    const frame = parseFloat(getComputedStyle(button).borderInlineStartWidth);
    return Math.min(inner.left - outer.left, outer.right - inner.right) - frame;
  };

  const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
  if (wide > 0) found.push(`scrolls sideways by ${wide} px`);

  const top = document.querySelector("dialog[open]") ?? document;
  // A radio button's target is the label around it, a file input's too.
  const inLabel = (element) => element.tagName === "INPUT" && element.closest("label") !== null;
  const all = [...top.querySelectorAll("button, summary, label:has(input), input, textarea")];
  const targets = all.filter((element) => !inLabel(element) && element.checkVisibility());
  const boxes = targets.map((element) => ({ element, box: element.getBoundingClientRect() }));
  for (const { element, box } of boxes) {
    const small = box.height < TARGET - 0.5 || box.width < TARGET - 0.5;
    if (small) found.push(`${name(element)} is ${Math.round(box.width)} x ${Math.round(box.height)} px`);
  }
  for (const [at, one] of boxes.entries()) {
    for (const other of boxes.slice(at + 1)) {
      const x = Math.max(one.box.left, other.box.left) - Math.min(one.box.right, other.box.right);
      const y = Math.max(one.box.top, other.box.top) - Math.min(one.box.bottom, other.box.bottom);
      const within = one.element.contains(other.element) || other.element.contains(one.element);
      const stands = (element) => element.closest(".stays") !== null;
      // What scrolls passes under what stands at the bottom.
      const passes = stands(one.element) !== stands(other.element);
      if (!within && !passes && x < BETWEEN - 0.5 && y < BETWEEN - 0.5) {
        found.push(
          `${name(one.element)} and ${name(other.element)} are ${Math.round(Math.max(x, y))} px apart`,
        );
      }
    }
  }

  // What is to be chosen has to be seen where it is not chosen yet: 3:1 to what it lies on (WCAG 2.2, 1.4.11).
  const luminance = (colour) => {
    const [red, green, blue] = colour
      .match(/[\d.]+/g)
      .slice(0, 3)
      .map((part) => part / 255)
      .map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const contrast = (one, other) => {
    const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b);
    return (light + 0.05) / (dark + 0.05);
  };
  const groundOf = (element) => {
    const { backgroundColor } = getComputedStyle(element);
    const clear = /, 0\)$/.test(backgroundColor) && element.parentElement !== null;
    return clear ? groundOf(element.parentElement) : backgroundColor;
  };
  for (const mark of top.querySelectorAll("input[type=radio], input[type=checkbox]")) {
    const { appearance, borderTopColor } = getComputedStyle(mark);
    if (!mark.checkVisibility()) continue;
    const ratio = contrast(borderTopColor, groundOf(mark.parentElement));
    if (appearance !== "none") found.push(`${mark.name} is drawn by the webview in a colour of its own`);
    else if (ratio < 3) found.push(`${mark.name} stands out by ${ratio.toFixed(1)} : 1 alone`);
  }

  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const element = node.parentElement;
    if (node.textContent.trim() === "" || element.closest("svg, script, style, .unseen")) continue;
    const size = parseFloat(getComputedStyle(element).fontSize);
    const button = element.closest("button");
    const room = button === null ? EDGE : roomIn(button, node);
    // Letters at the very edge run into the frame where a phone's own letters are wider.
    if (room < EDGE) found.push(`${name(button)} has letters ${room.toFixed(1)} px from its frame`);
    if (size < 17.9) found.push(`"${node.textContent.trim().slice(0, 30)}" is written at ${size} px`);
  }
  const readings =
    '[inputmode=none], [data-testid^="shift-from"], [data-testid="shift-to"], [data-testid="shift-by"], .level';
  for (const element of document.querySelectorAll(readings)) {
    const size = parseFloat(getComputedStyle(element).fontSize);
    if (size < 27.9) found.push(`${name(element)} shows a reading at ${size} px`);
  }
  return found;
}
