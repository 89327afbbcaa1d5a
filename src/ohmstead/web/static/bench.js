// The bench on a phone: one step a screen. A reading is put into the browser's own store first, then sent; the same
// reading carries the same token, so that it is taken once however often it is sent.
const walk = document.querySelector("[data-walk]");
const words = JSON.parse(walk.dataset.words);
const at = (name) => walk.querySelector(`[data-${name}]`);
const field = (name) => walk.querySelector(`[name=${name}]`);
const file = document.body.dataset.file;
const place = `ohmstead-readings:${file}`;
let steps = [], revision = "", here = 0, sending = false;

for (const name of ["who", "meter"]) {
  field(name).value = localStorage.getItem(`bench-${name}`) ?? "";
  field(name).addEventListener("change", () => localStorage.setItem(`bench-${name}`, field(name).value));
}

// --- what waits: in the browser's own database, photos too ---
const opened = new Promise((done, failed) => {
  const asked = indexedDB.open(place, 1);
  asked.onupgradeneeded = () => asked.result.createObjectStore("waiting", { keyPath: "token" });
  asked.onsuccess = () => done(asked.result);
  asked.onerror = () => failed(asked.error);
});
async function store(mode, work) {
  const base = await opened;
  return new Promise((done, failed) => {
    const move = base.transaction("waiting", mode, { durability: "strict" });
    const asked = work(move.objectStore("waiting"));
    move.oncomplete = () => done(asked.result);
    move.onerror = () => failed(move.error);
  });
}
const waiting = () => store("readonly", (base) => base.getAll());

function token() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function tellQueue() {
  const left = await waiting();
  at("queue").textContent = left.length ? `${left.length} ${words.waiting}` : words.sent;
  walk.dataset.waiting = String(left.length);
}

async function send() {
  if (sending) return;
  sending = true;
  try {
    const left = (await waiting()).sort((a, b) => a.order - b.order);
    for (const reading of left) {
      let answer;
      try {
        answer = await fetch(`${walk.dataset.walk}/reading`, {
          method: "POST", headers: { "content-type": "application/json", accept: "application/json" }, body: JSON.stringify(reading),
        });
      } catch { break; } // nobody answers: it stays
      if (answer.status === 503 || answer.status >= 500) break;
      const told = await answer.json();
      if (answer.ok) {
        await store("readwrite", (base) => base.delete(reading.token));
        const step = steps.find((one) => one.id === reading.step);
        if (step) { step.answered = told; mark(step); if (step === steps[here]) tell(told); }
      } else if (answer.status === 409) {
        at("queue").textContent = words.reload;
        break;
      } else {
        await store("readwrite", (base) => base.delete(reading.token));
        if (reading.step === steps[here]?.id) tell({ word: "look", said: told.problem ?? String(answer.status), side: "", causes: [] });
      }
    }
  } finally {
    sending = false;
    tellQueue();
  }
}

async function enter(text, skipped = "") {
  const step = steps[here];
  if (!field("who").value.trim()) { tell({ word: "look", said: words["name-first"], side: "", causes: [] }); field("who").focus(); return; }
  const photo = field("picture").files[0];
  const reading = {
    token: token(), order: Date.now(), revision, step: step.id, text, skipped, who: field("who").value.trim(), meter: field("meter").value.trim(),
    note: field("note").value.trim(), at: new Date().toISOString().replace(/\.\d+Z$/, "Z"),
  };
  if (photo) reading.picture = { name: photo.name, data: await base64(photo) };
  await store("readwrite", (base) => base.put(reading));
  tell({ word: "kept", said: words.kept, side: text, causes: [] });
  field("text").value = field("note").value = field("picture").value = field("skipped").value = "";
  await tellQueue();
  send();
}

async function base64(blob) {
  const bytes = new Uint8Array(await blob.arrayBuffer());
  let text = "";
  for (let from = 0; from < bytes.length; from += 32768) text += String.fromCharCode(...bytes.subarray(from, from + 32768));
  return btoa(text);
}

// --- the screen ---
function fill(node, lines, kind = "p") {
  node.replaceChildren(...lines.map((line) => Object.assign(document.createElement(kind), { textContent: line })));
}
function tell(told) {
  const box = at("verdict");
  box.className = `verdict-large ${told?.word ?? ""}`;
  if (!told) { box.replaceChildren(); return; }
  fill(box, [told.said, [told.shown, told.side].filter(Boolean).join(" "), ...(told.causes ?? []).map((cause) => `– ${cause}`)].filter(Boolean));
}
function mark(step) {
  const node = document.querySelector(`[data-state="${CSS.escape(step.id)}"]`);
  if (node) node.textContent = step.answered ? `${step.answered.said} ${step.answered.shown ?? ""}` : "";
}
function show(number) {
  here = Math.max(0, Math.min(steps.length - 1, number));
  const step = steps[here], number_ = step.asks === "number";
  at("count").textContent = `${words.step} ${here + 1} / ${steps.length}`;
  at("stage").textContent = step.stage;
  at("title").textContent = step.title;
  at("act").textContent = step.act;
  at("probes").textContent = step.probes;
  fill(at("cautions"), step.cautions);
  at("cautions").className = step.cautions.length ? "cautions" : "";
  at("expect").textContent = words.expect;
  at("value").textContent = step.expected;
  at("band").textContent = step.band;
  at("unit").textContent = step.unit;
  at("basis").textContent = step.basis;
  at("pad").hidden = !number_;
  walk.querySelector(".typed").hidden = !number_;
  at("ticks").hidden = number_;
  field("text").value = "";
  tell(step.answered);
  walk.dataset.step = step.id;
}

at("entry").addEventListener("submit", (event) => {
  event.preventDefault();
  if (field("text").value.trim()) enter(field("text").value.trim());
});
walk.addEventListener("click", (event) => {
  const button = event.target.closest("button");
  if (!button) return;
  const { digit, tick, turn } = button.dataset;
  const box = field("text");
  if (digit === "back") box.value = box.value.slice(0, -1);
  else if (digit === "−") box.value = box.value.startsWith("-") ? box.value.slice(1) : `-${box.value}`;
  else if (digit) box.value += digit;
  else if (tick) enter(tick);
  else if (turn) show(here + Number(turn));
  else if (button.matches("[data-skip]")) {
    const why = field("skipped").value.trim();
    if (why) enter("", why);
    else tell({ word: "look", said: words["skip-why"], side: "", causes: [] });
  }
});
document.addEventListener("click", (event) => {
  const go = event.target.closest("[data-go]");
  if (!go) return;
  show(steps.findIndex((step) => step.id === go.dataset.go));
  walk.scrollIntoView();
});

const answer = await fetch(`${walk.dataset.walk}/steps`, { headers: { accept: "application/json" } });
({ steps, revision } = await answer.json());
steps.forEach(mark);
const open = steps.findIndex((step) => !step.answered);
show(open < 0 ? steps.length - 1 : open);
if (open < 0) tell({ word: "good", said: words.done, side: "", causes: [] });
await tellQueue();
send();
setInterval(send, 4000);
addEventListener("online", send);
