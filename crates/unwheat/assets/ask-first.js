// A form that is sent while the workbench does not answer is lost with its page: so it is asked
// first, and the form goes when it has answered.

/** Milliseconds; longer than any answer takes that comes at all. */
const PATIENCE = 8000;

/**
 * Sends the form only once the page at `address` is answered. Until then it stays, and says `words`.
 * `sent` is called before it goes, unless the answer was the door of a workbench that does not know
 * this browser.
 */
export function askFirst(form, address, words, sent = () => {}) {
  let heard = false;
  form.addEventListener("submit", async (e) => {
    if (heard) return;
    e.preventDefault();
    const stop = new AbortController();
    const late = setTimeout(() => stop.abort(), PATIENCE);
    let answer = null;
    try {
      answer = await fetch(address, { method: "HEAD", cache: "no-store", signal: stop.signal });
    } catch { /* it sleeps */ }
    clearTimeout(late);
    heard = answer !== null;
    trouble(form, e.submitter, heard ? "" : words);
    if (!heard) return;
    if (!answer.redirected) sent();
    form.requestSubmit(e.submitter);
  });
  addEventListener("pageshow", () => { heard = false; });
}

/** Says what is wrong beside the button that was pressed. */
function trouble(form, button, words) {
  form.querySelector("#no-answer")?.remove();
  if (!words) return;
  const p = document.createElement("p");
  p.id = "no-answer";
  p.className = "trouble";
  p.setAttribute("role", "alert");
  p.textContent = words;
  const row = button?.closest("p, .ends, .row");
  if (row) row.after(p);
  else form.append(p);
}
