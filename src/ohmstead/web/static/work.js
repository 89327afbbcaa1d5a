// Work in the background: how far it is, and the page anew when it ends.
for (const form of document.querySelectorAll("[data-work]")) {
  const { work, state } = form.dataset;
  if (state !== "waiting" && state !== "running") continue;
  const look = async () => {
    try {
      const answer = await fetch(work, { headers: { accept: "application/json" } });
      const told = await answer.json();
      if (!answer.ok || !["waiting", "running"].includes(told.state)) { location.reload(); return; }
      if (told.share) form.querySelector("progress").value = told.share;
      form.querySelector("[data-left]").textContent = told.left_s ? `${Math.ceil(told.left_s)} s` : "";
    } catch { /* nobody answers; the next look will tell */ }
    setTimeout(look, 500);
  };
  setTimeout(look, 300);
}
