// Notices that the kitchen went back to a backup since this page was made: what it shows may be gone, and
// nothing sent from it is taken. Says so with one button; what was typed is carried over the loading.
const shows = document.body.dataset.state;
const place = "unwheat typed";
/** Milliseconds. */
const PAUSE = 10000;
let told = false;

/** Asks which state the kitchen is in now. */
export async function look() {
  if (shows === undefined || told) return;
  try {
    const answer = await fetch("/kitchen/state", { cache: "no-store" });
    if (!answer.ok || answer.redirected) return;
    if ((await answer.json()).state !== shows && !told) tell();
  } catch { /* the workbench does not answer: asked again */ }
}

function tell() {
  told = true;
  const bar = note("The kitchen went back to a backup, and this page is from before that. Nothing more is taken from it. Once it is loaded again, what you typed is shown beside it.");
  bar.setAttribute("aria-label", "From before");
  bar.firstChild.setAttribute("role", "alert");
  bar.append(button("Load this page again", () => {
    [...document.querySelectorAll("main input, main textarea")].filter(typed).forEach(carry);
    location.reload();
  }));
}

function typed(field) {
  const words = field.matches("textarea, [type=text], [type=search], [type=number], :not([type])");
  return words && !field.readOnly && field.value.trim() !== "" && field.value !== field.defaultValue;
}
export const named = (field) => field.labels?.[0]?.textContent.trim() || field.getAttribute("aria-label") || field.name;

/** What is to be carried over a loading: names of fields with what was typed in them. */
function carrying() {
  try { return JSON.parse(sessionStorage.getItem(place) ?? "[]"); } catch { return []; }
}
/** Carries what is typed in a field over a loading; what was carried of it before is let go. */
export function carry(field) {
  store([...carrying().filter(([name]) => name !== named(field)), [named(field), field.value]]);
}
/** Lets go what is carried of the field so named: it is kept, or was decided on. */
export function letGo(name) {
  store(carrying().filter(([other]) => other !== name));
}
function store(fields) {
  try { sessionStorage.setItem(place, JSON.stringify(fields)); } catch { /* the reader copies it */ }
}

/** A bar above the page's main part. */
function note(words) {
  const bar = document.createElement("aside");
  bar.className = "went-back";
  const p = document.createElement("p");
  p.textContent = words;
  bar.append(p);
  document.getElementById("main").before(bar);
  return bar;
}
function button(words, act) {
  const b = document.createElement("button");
  b.type = "button";
  b.textContent = words;
  b.addEventListener("click", act);
  return b;
}

/** What was typed on this page before it was loaded again. */
function carried() {
  const fields = carrying();
  if (!fields.length) return;
  const bar = note("You had typed this before the page was loaded again. It is not kept: copy what you need.");
  bar.setAttribute("aria-label", "Typed before");
  fields.forEach(([name, value], i) => {
    const label = document.createElement("label");
    label.htmlFor = `typed${i}`;
    label.textContent = `Typed before in ${name}`;
    const text = document.createElement("textarea");
    text.id = label.htmlFor;
    text.readOnly = true;
    text.rows = Math.min(value.split("\n").length, 12);
    text.value = value;
    bar.append(label, text);
  });
  bar.append(button("Put it away", () => {
    try { sessionStorage.removeItem(place); } catch { /* gone with the page */ }
    bar.remove();
    document.getElementById("main").focus();
  }));
}

carried();
setInterval(() => { if (document.visibilityState === "visible") look(); }, PAUSE);
document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") look(); });
addEventListener("focus", look);
