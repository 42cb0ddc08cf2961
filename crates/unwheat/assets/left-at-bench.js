// What a bench noted in this browser and never sent, of a batch that the kitchen does not have: it went back
// to a backup, and the batch is gone or its number is another's. Told on the next page, so that it is not lost.

/** Tells of the first such batch, if there is one. */
export async function left() {
  for (const place of Object.keys(localStorage)) {
    const [, id, begun] = /^unwheat bench (\d+) (\d+)$/.exec(place) ?? [];
    if (!id) continue;
    try {
      const { waiting = [], title = "", called = {} } = JSON.parse(localStorage.getItem(place));
      const words = waiting.map((w) => said(w, called[w.item] ?? w.item)).filter(Boolean);
      if (!words.length) continue;
      const answer = await fetch(`/bench/${id}/state`, { cache: "no-store" });
      const gone = answer.status === 404 || answer.ok && !answer.redirected && String((await answer.json()).begun) !== begun;
      if (gone) { tell(place, title, words); return; }
    } catch { /* no notes, or the workbench does not answer: asked again on the next page */ }
  }
}

function said(w, name) {
  if (w.do === "tick") return w.ticked ? `${name} ticked` : "";
  return w.do === "actual" && w.actual != null ? `${name} ${w.actual} g` : "";
}

function tell(place, title, words) {
  const bar = document.createElement("aside");
  bar.className = "went-back";
  bar.setAttribute("aria-label", "Noted at the bench");
  const p = document.createElement("p");
  p.setAttribute("role", "alert");
  p.textContent = `Noted at the bench for ${title}, in a batch that is not in this kitchen: ${words.join(", ")}. Write down what you need.`;
  const away = document.createElement("button");
  away.type = "button";
  away.textContent = "Put it away";
  away.addEventListener("click", () => { localStorage.removeItem(place); bar.remove(); });
  bar.append(p, away);
  document.querySelector("main").before(bar);
}
