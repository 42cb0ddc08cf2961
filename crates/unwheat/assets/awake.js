// Keeps the tablet's screen on: by the browser's own lock where there is one, else by a silent
// moving picture of a few pixels. Says which.

let lock = null;
let film = null;
let again = () => {};

// By the words of most tablets' settings.
const LONGEST = "choose the longest time in the tablet's own settings: Display, then Screen timeout or Auto-lock";

async function byLock() {
  if (!("wakeLock" in navigator)) return false;
  if (lock && !lock.released) return true;
  try { lock = await navigator.wakeLock.request("screen"); } catch { return false; }
  // Taken back by the system, when the battery runs low.
  lock.addEventListener("release", () => setTimeout(again, 500), { once: true });
  return true;
}

/** A picture that plays counts as something being watched. */
async function byFilm() {
  if (film) { try { await film.play(); return true; } catch { return false; } }
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = 16;
  if (!canvas.captureStream) return false;
  const brush = canvas.getContext("2d");
  let turn = 0;
  const draw = () => { brush.fillStyle = (turn ^= 1) ? "#1d4fa8" : "#1d50a8"; brush.fillRect(0, 0, 16, 16); };
  draw();
  const video = document.createElement("video");
  video.muted = true;
  video.playsInline = true;
  video.loop = true;
  video.className = "awake";
  video.setAttribute("aria-hidden", "true");
  video.tabIndex = -1;
  video.srcObject = canvas.captureStream(1);
  document.body.append(video);
  try { await video.play(); } catch { video.remove(); return false; }
  setInterval(draw, 1000);
  film = video;
  return true;
}

/** Starts it; `tell` gets the words for the page. */
export function keepAwake(tell) {
  const ask = async () => {
    if (document.visibilityState !== "visible") return;
    if (await byLock()) tell("Screen stays on");
    else if (await byFilm()) tell(`A silent picture plays to keep the screen on. If it goes dark all the same, ${LONGEST}`);
    else tell(`This browser lets the screen go dark: ${LONGEST}`);
  };
  again = ask;
  document.addEventListener("visibilitychange", ask);
  // Some browsers play, or lock, only after a tap.
  document.addEventListener("pointerup", () => { if (!(lock && !lock.released) && !(film && !film.paused)) ask(); });
  ask();
}
