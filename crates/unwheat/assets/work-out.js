// Works a blend out while it is asked for. What is being typed is never touched; the form works
// without this file.
import { hold, patch, release } from "./patch.js";
import { speak } from "./live.js";

const main = document.getElementById("main");
let waiting = 0;
let last = null;
let asked = "";

/** What the form says, without the fields that say nothing. */
function words(form) {
  const out = new URLSearchParams();
  for (const [name, value] of new FormData(form)) if (value) out.append(name, value);
  return out;
}

/** Asks; `typing` where a figure is on the way. */
async function ask(form, typing = false) {
  clearTimeout(waiting);
  const to = `${form.getAttribute("action")}?${words(form)}`;
  if (to === asked) return;
  asked = to;
  last?.abort();
  const mine = new AbortController();
  last = mine;
  const began = performance.now();
  const more = form.elements.also;
  const named = more.value;
  let got;
  try {
    const answer = await fetch(to, { headers: { "x-live": "1" }, signal: mine.signal });
    if (!answer.ok) throw new Error(answer.statusText);
    got = await answer.json();
  } catch {
    // A newer figure is on its way, or the workbench is gone: the next change asks again.
    if (mine === last) asked = "";
    return;
  }
  if (mine !== last) return;
  const fresh = document.createElement("main");
  fresh.innerHTML = got.main;
  for (const a of main.attributes) fresh.setAttribute(a.name, a.value);
  const had = document.activeElement;
  const stood = had.getBoundingClientRect().top;
  hold(form);
  patch(main, fresh);
  release(form);
  // A flour that was added has a row of its own now.
  if (more.value === named && more.defaultValue === "") more.value = "";
  // The blends above may have grown: what is being typed in stays where the eyes are.
  if (had !== document.body && had.isConnected) {
    if (document.activeElement !== had) had.focus({ preventScroll: true });
    scrollBy({ top: had.getBoundingClientRect().top - stood, behavior: "instant" });
  }
  history.replaceState(null, "", to);
  main.dataset.took = (performance.now() - began).toFixed(1);
  // Of a flour that is asked about, the answer about it.
  const why = had.name === "why" && document.getElementById("because-words")?.textContent.trim();
  speak(why || got.said, typing);
}

const asks = (e) => e.target.form?.matches("form[data-work]") && e.target.form;
document.addEventListener("input", (e) => {
  const form = asks(e);
  // Half a name is no flour.
  if (!form || e.target.name === "also") return;
  clearTimeout(waiting);
  waiting = setTimeout(ask, e.target.matches("input.f") ? 40 : 0, form, e.target.matches("input.f"));
});
document.addEventListener("change", (e) => {
  const form = asks(e);
  if (form) ask(form);
});
document.addEventListener("submit", (e) => {
  if (!e.target.matches("form[data-work]") || e.submitter?.hasAttribute("formaction")) return;
  e.preventDefault();
  ask(e.target);
});
