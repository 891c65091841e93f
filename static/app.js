// Small scripts that every page shares; each page works without them.
"use strict";

document.documentElement.classList.add("scripts"); // the pad and the − and + buttons show only where they work

// A page that comes back out of the browser's memory after signing out must not show a patient.
addEventListener("pagehide", () => { document.documentElement.style.visibility = "hidden"; });
addEventListener("pageshow", (event) => {
  if (event.persisted) location.reload(); else document.documentElement.style.visibility = "";
});

const entry = () => document.getElementById("entry");

// Where the pad types: the armed box, or on a page with several figures the one last touched.
let touched = null;
const figure = () => entry() || (touched?.isConnected ? touched : document.querySelector("[data-pad]"));
addEventListener("focusin", (event) => { if (event.target.matches("[data-pad]")) touched = event.target; });

// --- the number pad and the − and + buttons: they change the text in the entry, nothing else ---
function change(field, text) {
  field.value = text;
  field.dispatchEvent(new Event("input", { bubbles: true }));
  if (field.matches("[data-pad]")) askToKeep(field);
}
// A figure typed on the pad is kept like one typed on keys: when the hand has come to rest.
let resting = 0;
function askToKeep(field) {
  clearTimeout(resting);
  resting = setTimeout(() => field.dispatchEvent(new Event("change", { bubbles: true })), 900);
}
function stepBy(field, step, direction) {
  const from = field.value.trim().replace("−", "-").replace(",", ".");
  const value = from === "" ? Number(field.dataset.start) : Number(from) + direction * step;
  if (Number.isFinite(value)) change(field, String(Math.round(value * 10000) / 10000));
}
const deeds = {
  rub: (field) => change(field, field.value.slice(0, -1)),
  clear: (field) => change(field, ""),
  sign: (field) => change(field, /^[-−]/.test(field.value) ? field.value.slice(1) : "-" + field.value),
};
addEventListener("click", (event) => {
  const button = event.target.closest("button");
  const field = figure();
  if (!button || !field) return;
  const { type, deed, less, more } = button.dataset;
  if (type) {
    if (type === "." && /[.,]/.test(field.value)) return; // a second decimal point is a keying slip
    change(field, field.value + type);
  } else if (deed) deeds[deed](field);
  else if (less) stepBy(field, Number(less), -1);
  else if (more) stepBy(field, Number(more), 1);
});

// --- keys: digits typed anywhere go to the armed box; an instrument that types is told by its speed ---
const FASTEST_HAND = 35; // milliseconds between keys; people need more than 50
let lastKey = 0, burst = 0, busy = false, waiting = "";
function isEntryKey(event) {
  if (event.ctrlKey || event.metaKey || event.altKey) return false;
  const at = event.target;
  const elsewhere = at.matches?.("input, textarea, select, button, a, summary") && at.id !== "entry";
  return !elsewhere && (/^[0-9.,+-]$/.test(event.key) || event.key === "Enter");
}
addEventListener("keydown", (event) => {
  const field = entry();
  if (!field || !isEntryKey(event)) return;
  burst = event.timeStamp - lastKey < FASTEST_HAND ? burst + 1 : 1;
  lastKey = event.timeStamp;
  if (busy) { waiting += event.key === "Enter" ? "\n" : event.key; event.preventDefault(); return; }
  if (event.key === "Enter") {
    if (burst > 3) document.getElementById("entry-source").value = "instrument";
    if (event.target.id !== "entry") { event.preventDefault(); send(); }
  } else if (event.target.id !== "entry") { event.preventDefault(); change(field, field.value + event.key); }
});
function send() {
  document.getElementById("entry-form")?.requestSubmit(document.querySelector("#entry-form .keep"));
}
function pourWaiting() {
  const field = entry();
  while (field && waiting && !busy) {
    const key = waiting[0];
    waiting = waiting.slice(1);
    if (key === "\n") { send(); return; }
    change(field, field.value + key);
  }
}

// --- what a fresh step needs: pad shown, drawing lit, focus in the entry ---
function dress(root) {
  const field = entry();
  if (field) {
    field.setAttribute("inputmode", "none");
    field.focus({ preventScroll: true });
    field.setSelectionRange(field.value.length, field.value.length);
  }
  if (root.querySelector("#pad")) for (const box of root.querySelectorAll("[data-pad]")) box.setAttribute("inputmode", "none");
  const drawing = root.querySelector(".drawing[data-mark]");
  if (drawing) for (const mark of drawing.querySelectorAll(".mark")) {
    mark.classList.toggle("lit", mark.id === drawing.dataset.mark || mark.id.startsWith(drawing.dataset.mark + "-"));
  }
}
addEventListener("DOMContentLoaded", () => dress(document));
addEventListener("htmx:afterSettle", (event) => { if (event.target.id === "step" || event.detail.elt?.id === "step") dress(document); });
addEventListener("htmx:beforeRequest", (event) => { if (event.target.closest("#entry-form") && event.target.id !== "entry") busy = true; });
addEventListener("htmx:afterRequest", (event) => { if (event.target.id !== "entry") busy = false; });
addEventListener("htmx:afterSettle", () => { busy = false; pourWaiting(); });

// --- a lost network is said in words, and said again when it is back ---
function say(words) {
  const line = document.getElementById("connection");
  line.hidden = !words;
  line.textContent = words;
}
addEventListener("htmx:sendError", () => say("No connection to the practice. What you typed is still in its box: send it again in a moment."));
addEventListener("htmx:timeout", () => say("The practice's computer does not answer. What you typed is still in its box: send it again."));
addEventListener("htmx:afterOnLoad", () => say(""));
addEventListener("online", () => say(""));

// --- a sign-in that has run out is asked for once: a second refusal must not wipe the name being typed ---
addEventListener("htmx:beforeSwap", (event) => {
  const open = document.querySelector("#sign-in-again form");
  if (event.detail.xhr.status === 401 && open) event.detail.shouldSwap = false;
});
