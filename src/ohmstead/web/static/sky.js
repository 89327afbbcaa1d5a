// The sky: obstacles moved by pointer, arrow keys or number fields; the server draws them anew and says what they cost.
const sky = document.querySelector("[data-sky]");
if (sky) {
  const board = sky.querySelector("[data-board]"), form = sky.querySelector("[data-figures]");
  const SVG = board.querySelector("svg").namespaceURI;
  let found = JSON.parse(sky.dataset.handles), held = null, answered = 0;
  const fields = (name) => [...form.querySelectorAll("[data-obstacle]")].find((row) => row.dataset.obstacle === name)?.querySelectorAll("input");

  function draw() {
    const focus = board.contains(document.activeElement) ? document.activeElement.dataset?.name : "";
    if (found.svg) board.innerHTML = found.svg;
    const svg = board.querySelector("svg");
    svg.setAttribute("role", "group");
    board.querySelectorAll(".handle").forEach((handle) => handle.remove());
    for (const one of found.obstacles) {
      const handle = document.createElementNS(SVG, "g");
      const [x, y] = held?.name === one.name ? held.spot : [one.x, one.y];
      handle.setAttribute("class", "handle");
      handle.setAttribute("transform", `translate(${x} ${y})`);
      handle.setAttribute("tabindex", "0");
      handle.setAttribute("role", "button");
      handle.setAttribute("aria-describedby", "sky-help");
      handle.setAttribute("aria-label", ["name", "azimuth", "elevation", "distance"].reduce((text, key) => text.replace(`{${key}}`, one[key]), sky.dataset.says));
      handle.dataset.name = one.name;
      for (const [tag, given] of [["circle", { r: 15, class: "reach" }], ["circle", { r: 8 }], ["path", { d: "M-13 0H13M0-13V13" }]]) {
        const shape = document.createElementNS(SVG, tag);
        for (const [key, value] of Object.entries(given)) shape.setAttribute(key, value);
        handle.append(shape);
      }
      svg.append(handle);
      if (one.name === focus) handle.focus({ preventScroll: true });
    }
  }
  let busy = false, next = null, rest = 0, costing = null;
  async function ask(drag = null) {
    if (busy) { next = { drag }; return; }
    busy = true;
    try {
      const query = new URLSearchParams([...new FormData(form)].filter(([key]) => key !== "mark"));
      if (drag) { query.set("drag", drag.name); query.set("x", drag.spot[0]); query.set("y", drag.spot[1]); }
      const answer = await fetch(`${sky.dataset.sky}?${query}`, { headers: { accept: "application/json" } });
      if (answer.ok) {
        found = await answer.json();
        const one = drag && found.obstacles.find((each) => each.name === drag.name);
        if (one) fields(one.name).forEach((field, at) => { field.value = one[["east", "north", "top"][at]]; });
        draw();
        sky.dataset.answered = String(++answered);
      }
    } finally {
      busy = false;
      if (next) { const { drag: later } = next; next = null; ask(later); }
      else { clearTimeout(rest); rest = setTimeout(costs, 600); }
    }
  }
  async function costs() {
    costing?.abort();
    costing = new AbortController();
    const told = sky.querySelector("[data-costing]");
    told.textContent = told.dataset.says;
    try {
      const query = new URLSearchParams([...new FormData(form)].filter(([key]) => key !== "mark"));
      query.set("costs", "yes");
      const answer = await fetch(`${sky.dataset.sky}?${query}`, { headers: { accept: "application/json" }, signal: costing.signal });
      if (answer.ok) sky.querySelector("[data-costs]").innerHTML = (await answer.json()).costs;
      told.textContent = "";
      sky.dataset.costed = String(answered);
    } catch (fault) { if (fault.name !== "AbortError") told.textContent = ""; }
  }
  const spotOf = (event) => {
    const svg = board.querySelector("svg"), at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return [at.x, at.y];
  };
  board.addEventListener("pointerdown", (event) => {
    const handle = event.target.closest(".handle");
    if (!handle || event.button) return;
    held = { name: handle.dataset.name, spot: spotOf(event) };
    board.setPointerCapture(event.pointerId);
    handle.focus({ preventScroll: true });
    event.preventDefault();
  });
  board.addEventListener("pointermove", (event) => {
    if (!held) return;
    held.spot = spotOf(event);
    [...board.querySelectorAll(".handle")].find((handle) => handle.dataset.name === held.name)?.setAttribute("transform", `translate(${held.spot[0]} ${held.spot[1]})`);
    document.dispatchEvent(new CustomEvent("typing"));
    ask({ name: held.name, spot: held.spot });
  });
  for (const end of ["pointerup", "pointercancel"]) board.addEventListener(end, () => { held = null; draw(); });
  board.addEventListener("keydown", (event) => {
    const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    const handle = event.target.closest(".handle");
    if (!by || !handle) return;
    event.preventDefault();
    const one = found.obstacles.find((each) => each.name === handle.dataset.name), step = event.shiftKey ? 5 : 1;
    one.x += by[0] * step * found.degree[0];
    one.y += by[1] * step * found.degree[1];
    handle.setAttribute("transform", `translate(${one.x} ${one.y})`);
    document.dispatchEvent(new CustomEvent("typing"));
    ask({ name: one.name, spot: [one.x, one.y] });
  });
  form.addEventListener("input", () => ask());
  form.addEventListener("reset", () => setTimeout(() => ask()));
  draw();
  costs();
}
