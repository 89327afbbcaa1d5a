// What every page has: light or dark, forms that send themselves, keys, and a question before something is taken out.
const root = document.documentElement;
root.classList.add("scripted");

document.addEventListener("click", (event) => {
  if (event.target.closest("[data-theme-switch]")) {
    const dark = root.dataset.theme ? root.dataset.theme === "dark" : matchMedia("(prefers-color-scheme: dark)").matches;
    root.dataset.theme = dark ? "light" : "dark";
    localStorage.setItem("theme", root.dataset.theme);
  }
});
document.addEventListener("change", (event) => {
  if (event.target.matches("[data-send]")) event.target.form.requestSubmit();
});
document.addEventListener("submit", (event) => {
  const question = event.target.dataset.sure;
  if (question && !confirm(question)) event.preventDefault();
});
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey)) return;
  const typing = event.target.matches("input, textarea, select");
  const button = document.querySelector(`button[data-key="${event.key.toLowerCase()}"]`);
  if (button && !button.disabled && (event.key === "s" || !typing)) {
    event.preventDefault();
    button.form.requestSubmit(button);
  }
});

// A form that comes back says at its fields what is wrong; its first wrong field is ready to be typed into.
document.body.addEventListener("htmx:beforeSwap", (event) => {
  if ([404, 409, 422].includes(event.detail.xhr.status)) { event.detail.shouldSwap = true; event.detail.isError = false; }
});
document.body.addEventListener("htmx:afterSettle", (event) => {
  const place = document.querySelector(".opened [aria-invalid]") ?? document.querySelector(".opened [role=alert]");
  if (event.detail.requestConfig?.verb === "post") place?.focus();
  else if (event.detail.requestConfig?.elt?.matches("a")) { // opened by a link: reading and typing go on there
    const opened = document.querySelector("#opened .opened");
    opened?.setAttribute("tabindex", "-1");
    opened?.focus({ preventScroll: true });
    opened?.scrollIntoView({ block: "nearest" });
  }
});

// A file changed in an editor: shown anew, but not over what is being typed; never overwritten.
let typing = false;
document.addEventListener("typing", () => { typing = true; });
document.addEventListener("input", (event) => { if (event.target.closest('form[method="post"]')) typing = true; });
const { file, mark, changed } = document.body.dataset;
if (file) {
  setInterval(async () => {
    if (document.hidden) return;
    try {
      const answer = await fetch(`/s/${encodeURIComponent(file)}/mark`, { headers: { accept: "application/json" } });
      const now = (await answer.json()).mark;
      if (!answer.ok || now === mark) return;
      if (typing) document.querySelector("#said").textContent = changed;
      else location.reload();
    } catch { /* the server is away; the next try will tell */ }
  }, 3000);
}
