// Keeps the card's preview true while its words are typed: once typing rests, the newest card is
// laid over the one in the frame, touching only what differs, so that it neither blinks nor jumps.
// Without this file the frame loads with its page.
import { patch } from "./patch.js";

/** How long typing rests before the preview follows, in milliseconds. */
const REST = 300;
let resting = 0;
let last = null;

async function follow() {
  const frame = document.querySelector("iframe.card");
  if (!frame) return;
  last?.abort();
  last = new AbortController();
  const [answer, text] = await newest(frame.src, last.signal);
  if (!answer) return;
  const shown = frame.contentDocument;
  if (answer.ok && shown?.URL === frame.src && shown.readyState === "complete") {
    patch(shown.documentElement, new DOMParser().parseFromString(text, "text/html").documentElement);
  } else {
    // Still on its way, led elsewhere by a link, or in trouble: it loads anew, as no step of Back.
    frame.contentWindow.location.replace(frame.src);
  }
}

async function newest(address, signal) {
  try {
    const answer = await fetch(address, { signal });
    return [answer, await answer.text()];
  } catch {
    // A newer card is on its way, or the workbench is gone: the field says so.
    return [];
  }
}

/** The frame is as long as its card: no part of it is cut off, and the page alone scrolls. */
const length = new ResizeObserver(([seen]) => {
  const frame = document.querySelector("iframe.card");
  const root = seen.target.ownerDocument.documentElement;
  if (frame) frame.style.height = `${Math.ceil(root.getBoundingClientRect().height) + 2}px`;
});

function measure() {
  const frame = document.querySelector("iframe.card");
  length.disconnect();
  if (frame?.contentDocument?.body) length.observe(frame.contentDocument.documentElement);
}

document.querySelector("iframe.card")?.addEventListener("load", measure);
measure();

document.addEventListener("patched", () => {
  clearTimeout(resting);
  resting = setTimeout(follow, REST);
});
