// The drawing: nearer and farther, find, pick, and what flows at the moment that sliders and switches say.
const board = document.querySelector("[data-drawing]");
const form = document.querySelector("[data-moment]");
const byId = (id) => (id ? document.getElementById(id) : null);
let scale = 1;

function zoom(to, x = board.clientWidth / 2, y = board.clientHeight / 2) {
  const next = Math.min(12, Math.max(1, to));
  const left = (board.scrollLeft + x) * (next / scale) - x;
  const top = (board.scrollTop + y) * (next / scale) - y;
  scale = next;
  for (const leaf of board.querySelectorAll(".leaf")) leaf.style.width = `${100 * scale}%`;
  board.scrollLeft = left;
  board.scrollTop = top;
}

function pick(id, come) {
  board?.querySelectorAll(".picked").forEach((group) => group.classList.remove("picked"));
  const group = byId(id);
  if (!group) return;
  group.classList.add("picked");
  if (come) group.scrollIntoView({ block: "center", inline: "center" });
}

function open(name, kind = "thing", key = "name") {
  const file = document.body.dataset.file;
  htmx.ajax("GET", `/s/${encodeURIComponent(file)}/${kind}?${key}=${encodeURIComponent(name)}`, "#opened");
}

if (board) {
  const names = new Map();
  for (const link of document.querySelectorAll(".things a[data-mark-on]")) names.set(link.dataset.markOn, link.textContent);
  for (const group of board.querySelectorAll("g[id]")) {
    if (!names.has(group.id)) continue;
    group.setAttribute("tabindex", "-1");
    for (const line of group.classList.contains("run") ? group.querySelectorAll(":scope > path") : []) {
      const wide = line.cloneNode();
      wide.setAttribute("stroke", "transparent");
      wide.setAttribute("stroke-width", "3");
      wide.setAttribute("fill", "none");
      wide.classList.add("wide");
      group.append(wide);
      break;
    }
  }
  board.addEventListener("click", (event) => {
    const group = event.target.closest("g[id]");
    if (!group || !names.has(group.id)) return;
    pick(group.id, false);
    open(names.get(group.id));
  });
  board.addEventListener("wheel", (event) => {
    if (!event.ctrlKey && !event.metaKey) return;
    event.preventDefault();
    const box = board.getBoundingClientRect();
    zoom(scale * (event.deltaY < 0 ? 1.2 : 1 / 1.2), event.clientX - box.left, event.clientY - box.top);
  }, { passive: false });
  board.addEventListener("keydown", (event) => {
    if (event.key === "+" || event.key === "=") zoom(scale * 1.3);
    else if (event.key === "-") zoom(scale / 1.3);
    else return;
    event.preventDefault();
  });
  const fingers = new Map();
  let apart = 0;
  const distance = () => {
    const [a, b] = [...fingers.values()];
    return Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY);
  };
  board.addEventListener("pointerdown", (event) => { fingers.set(event.pointerId, event); apart = fingers.size === 2 ? distance() : 0; });
  board.addEventListener("pointermove", (event) => {
    if (!fingers.has(event.pointerId)) return;
    fingers.set(event.pointerId, event);
    if (fingers.size === 2 && apart) { const now = distance(); zoom(scale * (now / apart)); apart = now; }
  });
  for (const end of ["pointerup", "pointercancel", "pointerleave"]) board.addEventListener(end, (event) => fingers.delete(event.pointerId));
  document.querySelectorAll("[data-zoom]").forEach((button) => button.addEventListener("click", () => {
    zoom({ in: scale * 1.4, out: scale / 1.4, all: 1 }[button.dataset.zoom]);
  }));
  document.querySelector("[data-search]").addEventListener("change", (event) => {
    const wanted = event.target.value.trim().toLowerCase();
    const hit = [...names].find(([, name]) => name.toLowerCase() === wanted) ?? [...names].find(([, name]) => name.toLowerCase().includes(wanted));
    if (!wanted || !hit) return;
    if (scale < 2) zoom(2.5);
    pick(hit[0], true);
    open(hit[1]);
  });
}
document.addEventListener("click", (event) => {
  const link = event.target.closest("[data-mark-on]");
  if (link) pick(link.dataset.markOn, scale > 1);
});
document.body.addEventListener("htmx:afterSwap", (event) => {
  if (event.detail.target.id === "opened") event.detail.target.scrollIntoView({ block: "nearest" });
});

// --- the moment ---
let asked = 0;
function letter(texts, values) {
  texts.forEach((text, at) => { if (values[at] !== undefined && text.textContent !== values[at]) text.textContent = values[at]; });
}
function draw(found) {
  for (const [id, run] of Object.entries(found.runs)) {
    const group = byId(id);
    if (!group) continue;
    letter(group.querySelectorAll(":scope > text.current"), [run.current, ""]);
    letter(group.querySelectorAll(":scope > text.drop"), [run.drop]);
    group.querySelector(":scope > path:not(.wide)")?.setAttribute("stroke-width", run.weight);
  }
  for (const [id, part] of Object.entries(found.parts)) {
    const group = byId(id);
    if (!group) continue;
    letter(group.querySelectorAll(":scope > text.volts"), part.volts);
    group.classList.toggle("gone", Boolean(part.gone));
  }
  document.querySelector("[data-given]").textContent = found.battery;
  document.querySelector("[data-events]").textContent = found.events.join(" · ");
  performance.mark(`drawn-${asked}`);
  document.body.dataset.drawn = String(asked);
}
let busy = false, again = false;
async function ask() {
  if (busy) { again = true; return; }
  busy = true;
  const number = ++asked;
  performance.mark(`asked-${number}`);
  try {
    const query = new URLSearchParams([...new FormData(form)].filter(([key]) => key));
    const answer = await fetch(`${form.dataset.moment}?${query}`, { headers: { accept: "application/json" } });
    if (answer.ok) draw(await answer.json());
  } finally {
    busy = false;
    if (again) { again = false; ask(); }
  }
}
if (form) {
  form.addEventListener("input", (event) => {
    const output = form.querySelector(`[data-for="${event.target.name}"]`);
    if (output) output.textContent = `${event.target.value} %`;
    if (!event.target.matches("[data-case]")) ask();
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  form.querySelector("[data-case]").addEventListener("change", async (event) => {
    if (!event.target.value) { ask(); return; }
    const answer = await fetch(`${event.target.dataset.case}?case=${encodeURIComponent(event.target.value)}`, { headers: { accept: "application/json" } });
    if (!answer.ok) return;
    const found = await answer.json();
    for (const name of ["battery", "warmth"]) {
      form.elements[name].value = found[name];
      form.querySelector(`[data-for="${name}"]`).textContent = `${found[name]} %`;
    }
    for (const [name, state] of Object.entries(found.states)) form.elements[`state:${name}`].value = state;
    ask();
  });
}

if (matchMedia("(max-width: 60rem)").matches) document.querySelectorAll("[data-folds]").forEach((folded) => { folded.open = false; });
