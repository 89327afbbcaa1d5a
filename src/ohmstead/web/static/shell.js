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

// A file changed in an editor: say so, never overwrite.
const { file, mark } = document.body.dataset;
if (file) {
  setInterval(async () => {
    if (document.hidden) return;
    try {
      const answer = await fetch(`/s/${encodeURIComponent(file)}/mark`, { headers: { accept: "application/json" } });
      const now = (await answer.json()).mark;
      if (answer.ok && now !== mark) location.reload();
    } catch { /* the server is away; the next try will tell */ }
  }, 3000);
}
