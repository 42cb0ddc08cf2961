// Keeps 'what is next' of a day true while the page is open. The page works without this file: it
// then says what was next when it was loaded.
import { patch } from "./patch.js";

const EVERY = 20_000;

async function look() {
  const old = document.querySelector("[data-next]");
  if (!old || document.hidden) return;
  try {
    const answer = await fetch(old.dataset.next, { headers: { "x-live": "1" } });
    if (!answer.ok) return;
    const fresh = document.createElement("template");
    fresh.innerHTML = await answer.text();
    const now = fresh.content.firstElementChild;
    if (now) patch(old, now);
  } catch {
    // The workbench is asleep: the next look asks again.
  }
}

setInterval(look, EVERY);
document.addEventListener("visibilitychange", look);
