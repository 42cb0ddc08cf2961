// Adds up a blend's shares and draws it while they are typed. Nothing that is being typed is
// touched; the form works without this file.
const form = document.querySelector("form[data-blend]");
const sum = document.getElementById("f-sum");
const drawn = document.getElementById("drawn");
let waiting = 0;
let last = null;

async function ask() {
  last?.abort();
  last = new AbortController();
  const began = performance.now();
  try {
    const answer = await fetch(form.action, {
      method: "POST",
      body: new URLSearchParams(new FormData(form)),
      headers: { "x-live": "1" },
      signal: last.signal,
    });
    if (!answer.ok) return;
    const got = await answer.json();
    if (sum.textContent !== got.sum) sum.textContent = got.sum;
    drawn.innerHTML = got.drawn;
    form.dataset.took = (performance.now() - began).toFixed(1);
  } catch {
    // A newer figure is on its way, or the workbench is gone: saving will say so.
  }
}

form?.addEventListener("input", () => {
  clearTimeout(waiting);
  waiting = setTimeout(ask, 40);
});
