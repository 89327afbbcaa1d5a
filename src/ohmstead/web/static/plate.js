// The plate: parts moved by pointer, arrow keys or number fields; the server leads the wires anew and says how long.
const plate = document.querySelector("[data-plate]");
if (plate) {
  const board = plate.querySelector("[data-board]");
  const form = plate.querySelector("[data-places]");
  const rows = [...form.querySelectorAll("[data-part]")];
  const parts = new Map(rows.map((row) => {
    const [right, down] = row.querySelectorAll("input");
    return [row.dataset.part, { name: row.querySelector("th").textContent, right, down }];
  }));
  let scale = Number(plate.dataset.scale);
  let drawn = new Map([...parts].map(([id, part]) => [id, [Number(part.right.value), Number(part.down.value)]]));
  let held = null;

  // Where parts are by the fields, before the server has answered.
  function nudge() {
    for (const [id, part] of parts) {
      const group = board.querySelector(`#${CSS.escape(id)}`);
      if (!group) continue;
      const [right, down] = drawn.get(id);
      const by = [(Number(part.right.value) - right) / scale, (Number(part.down.value) - down) / scale];
      group.setAttribute("transform", `translate(${by[0]} ${by[1]})`);
      group.setAttribute("tabindex", "0");
      group.setAttribute("role", "button");
      group.setAttribute("aria-describedby", "plate-help");
      group.setAttribute("aria-label", plate.dataset.says.replace("{name}", part.name).replace("{right}", part.right.value).replace("{down}", part.down.value));
      group.classList.toggle("picked", held?.id === id);
    }
  }
  function show(found) {
    const focus = document.activeElement?.closest?.("[data-board] g[id]")?.id;
    board.innerHTML = found.svg;
    scale = found.scale;
    drawn = new Map(found.parts.map((part) => [part.id, [part.right, part.down]]));
    nudge();
    if (focus) board.querySelector(`#${CSS.escape(focus)}`)?.focus({ preventScroll: true });
    plate.querySelector("[data-together]").textContent = found.together;
    if (found.wires.length) {
      plate.querySelector("[data-wires]").replaceChildren(...found.wires.map((wire) => {
        const row = document.createElement("tr"), head = document.createElement("th"), cell = document.createElement("td");
        head.scope = "row";
        head.textContent = wire.name;
        cell.textContent = wire.length;
        row.append(head, cell);
        return row;
      }));
    }
    const told = [...found.told.map((text) => ["✕", text]), ...(found.found ?? []).map((one) => [{ danger: "▲", fails: "✕", tight: "○" }[one.severity] ?? "", `${one.rule}: ${one.message}`, one.rule])];
    plate.querySelector("[data-told]").replaceChildren(...told.map(([sign, text, rule]) => {
      const line = document.createElement("p");
      line.className = "wrong";
      line.textContent = `${sign} ${text} `;
      if (rule) {
        const link = document.createElement("a");
        link.href = `/rules/${rule}`;
        link.textContent = plate.dataset.rule;
        line.append(link);
      }
      return line;
    }));
  }
  let busy = false, again = false, rest = 0, answered = 0;
  async function ask(check = "") {
    if (busy) { again = true; return; }
    busy = true;
    try {
      const query = new URLSearchParams([...new FormData(form)].filter(([key]) => key !== "mark"));
      if (check) query.set("check", check);
      const answer = await fetch(`${plate.dataset.plate}?${query}`, { headers: { accept: "application/json" } });
      if (answer.ok) { show(await answer.json()); plate.dataset.answered = String(++answered); if (check) plate.dataset.checked = String(answered); }
    } finally {
      busy = false;
      if (again) { again = false; ask(); }
      else if (!check) { clearTimeout(rest); rest = setTimeout(() => ask("yes"), 500); }
    }
  }
  function put(part, right, down) {
    part.right.value = String(Math.round(right));
    part.down.value = String(Math.round(down));
    part.right.dispatchEvent(new Event("input", { bubbles: true }));
  }
  const groupAt = (event) => [...parts.keys()].find((id) => event.target.closest?.(`#${CSS.escape(id)}`));
  board.addEventListener("pointerdown", (event) => {
    const id = groupAt(event);
    if (!id || event.button) return;
    const part = parts.get(id);
    held = { id, part, from: [event.clientX, event.clientY], at: [Number(part.right.value), Number(part.down.value)] };
    board.setPointerCapture(event.pointerId);
    board.querySelector(`#${CSS.escape(id)}`).focus({ preventScroll: true });
    event.preventDefault();
  });
  board.addEventListener("pointermove", (event) => {
    if (!held) return;
    const per = scale / board.querySelector("svg").getScreenCTM().a;
    put(held.part, held.at[0] + (event.clientX - held.from[0]) * per, held.at[1] + (event.clientY - held.from[1]) * per);
  });
  for (const end of ["pointerup", "pointercancel"]) board.addEventListener(end, () => { held = null; nudge(); });
  board.addEventListener("keydown", (event) => {
    const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    const id = groupAt(event);
    if (!by || !id) return;
    event.preventDefault();
    const part = parts.get(id), step = event.shiftKey ? 10 : 1;
    put(part, Number(part.right.value) + by[0] * step, Number(part.down.value) + by[1] * step);
  });
  form.addEventListener("input", () => { nudge(); ask(); });
  form.addEventListener("reset", () => setTimeout(() => { nudge(); ask(); }));
  nudge();
}
