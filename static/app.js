// Every page works without these.
"use strict";

document.documentElement.classList.add("scripts"); // the pad and the − and + buttons show only where they work

// A page that comes back out of the browser's memory after signing out must not show a patient.
addEventListener("pagehide", () => { document.documentElement.style.visibility = "hidden"; });
addEventListener("pageshow", (event) => {
  if (event.persisted) location.reload(); else document.documentElement.style.visibility = "";
});

const entry = () => document.getElementById("entry");
const armed = () => document.querySelector("#entry-form [name=box]")?.value;

// Where the pad types: the armed box, or on a page with several figures the one last touched.
let touched = null;
const figure = () => entry() || (touched?.isConnected ? touched : document.querySelector("[data-pad]"));
addEventListener("focusin", (event) => { if (event.target.matches("[data-pad]")) touched = event.target; });

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

// --- one queue for pad, keys and instruments: what is pressed while a reading is being stored waits its turn ---
let busy = false, sentFrom = "";
const waiting = [];
const deeds = {
  rub: (field) => change(field, field.value.slice(0, -1)),
  clear: (field) => change(field, ""),
  sign: (field) => change(field, /^[-−]/.test(field.value) ? field.value.slice(1) : "-" + field.value),
  enter: () => document.getElementById("entry-form")?.requestSubmit(document.querySelector("#entry-form .keep")),
};
function press(key) {
  if (busy) { waiting.push(key); return; }
  const field = figure();
  if (!field) return;
  if (typeof key === "function") key(field);
  else if (deeds[key]) deeds[key](field);
  else if (/[.,]/.test(key) && /[.,]/.test(field.value)) return; // a second decimal point is a keying slip
  else change(field, field.value + key);
}
function pour() {
  while (waiting.length && !busy) press(waiting.shift());
}
function setAside(why) {
  const typed = waiting.splice(0).filter((key) => typeof key === "string" && !deeds[key]).join("");
  if (typed) say(`${why} “${typed}” was typed meanwhile and was not taken: type it again where it belongs.`);
}
addEventListener("submit", (event) => {
  if (event.target.id === "entry-form") { busy = true; sentFrom = armed(); }
}, true);
function answered(event) {
  if (!busy) return;
  busy = false;
  if (event.detail.xhr && event.detail.xhr.status >= 400) setAside("Please answer the question first.");
  else if (armed() === sentFrom) setAside("This box needs a look first.");
  else pour();
}
const aboutStep = (event) => event.target.id === "step" || event.detail.elt?.id === "step";
addEventListener("htmx:afterSettle", (event) => { if (aboutStep(event)) { dress(document); answered(event); } });
for (const name of ["htmx:sendError", "htmx:timeout", "htmx:responseError", "htmx:sendAbort"]) {
  addEventListener(name, (event) => {
    if (event.target.id !== "entry-form") return;
    busy = false;
    setAside("The reading before was not stored.");
  });
}
addEventListener("htmx:afterRequest", (event) => { // refused without a new step: a sign-in that has run out
  if (event.target.id === "entry-form" && event.detail.xhr.status === 401) { busy = false; waiting.length = 0; }
});

// --- the pad: it never takes the focus from the armed box ---
addEventListener("pointerdown", (event) => {
  if (event.target.closest("#pad button, .less, .more")) event.preventDefault();
});
addEventListener("click", (event) => {
  const button = event.target.closest("button");
  if (!button || !figure()) return;
  const { type, deed, less, more } = button.dataset;
  if (type) press(type);
  else if (deed) press(deed);
  else if (less) press((field) => stepBy(field, Number(less), -1));
  else if (more) press((field) => stepBy(field, Number(more), 1));
});

// --- keys: digits typed anywhere go to the armed box; an instrument that types is told by its speed ---
const FASTEST_HAND = 45; // milliseconds between keys; people need more than 50
const INSTRUMENT_KEYS = 3;
let lastKey = 0, burst = "";
const isText = (element) => element.matches?.("input:not([type=radio]):not([type=checkbox]), textarea, select");
addEventListener("keydown", (event) => {
  const field = entry();
  if (!field || event.ctrlKey || event.metaKey || event.altKey) return;
  const digit = /^[0-9.,+-]$/.test(event.key), enter = event.key === "Enter";
  if (!digit && !enter) return;
  burst = event.timeStamp - lastKey < FASTEST_HAND ? burst : "";
  lastKey = event.timeStamp;
  if (enter) pressEnter(event, field);
  else { burst += event.key; pressDigit(event, field); }
}, true);
function pressDigit(event, field) {
  if (isText(event.target) && event.target !== field) return;
  if (event.target === field && !busy) return; // the browser types it
  event.preventDefault();
  press(event.key);
}
function pressEnter(event, field) {
  const instrument = burst.length >= INSTRUMENT_KEYS;
  if (instrument) document.getElementById("entry-source").value = "instrument";
  if (isText(event.target) && event.target !== field) {
    event.preventDefault(); // Enter in a note never sends the reading
    if (!instrument) { field.focus(); return; }
    event.target.value = event.target.value.slice(0, -burst.length); // the instrument typed into the wrong place
    for (const key of burst) press(key);
    press("enter");
  } else if (event.target === field || event.target === document.body || event.target.id === "step-title") {
    event.preventDefault();
    press("enter");
  }
}

// --- leaving a box with a half-typed number: it is kept first, and offered again ---
let leaving = null;
addEventListener("click", async (event) => {
  const link = event.target.closest("a[href]"), field = entry();
  if (!link || !field?.value.trim() || busy || link === leaving) return;
  event.preventDefault();
  event.stopImmediatePropagation();
  const form = new FormData(document.getElementById("entry-form"));
  const body = new URLSearchParams({ box: form.get("box"), text: field.value });
  const kept = await fetch(field.getAttribute("hx-post"), { method: "POST", body }).catch(() => null);
  if (!kept?.ok) {
    say(`“${field.value}” is not kept yet: the practice did not answer. Send it, or clear the box, before you leave.`);
    return;
  }
  leaving = link;
  link.click();
}, true);

// --- what a fresh step needs: drawing lit, focus in the entry ---
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

// Only one of the panels that lie over a step is open at a time.
addEventListener("toggle", (event) => {
  if (!event.target.matches?.(".over[open]")) return;
  for (const other of document.querySelectorAll(".over[open]")) if (other !== event.target) other.open = false;
}, true);

// --- a lost network is said in words, and said again when it is back ---
function say(words) {
  const line = document.getElementById("connection");
  line.hidden = !words;
  line.textContent = words;
}
addEventListener("htmx:sendError", () => say("No connection to the practice. What you typed is still in its box: send it again in a moment."));
addEventListener("htmx:timeout", () => say("The practice's computer does not answer. What you typed is still in its box: send it again."));
addEventListener("htmx:beforeRequest", (event) => { if (event.target.id === "entry-form") say(""); });
addEventListener("online", () => say(""));

// --- a sign-in that has run out is asked for once; a refusal of something sent before signing in again is late ---
let signedInAt = 0;
addEventListener("htmx:beforeRequest", (event) => { event.detail.xhr.sentAt = performance.now(); });
addEventListener("htmx:beforeSwap", (event) => {
  const { xhr, elt } = event.detail, open = document.querySelector("#sign-in-again form");
  if (xhr.status === 401 && (open || xhr.sentAt < signedInAt)) event.detail.shouldSwap = false;
  if (xhr.status < 300 && elt.id === "sign-in-again") signedInAt = performance.now();
});
