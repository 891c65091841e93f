// Small scripts that every page shares; each page works without them.
"use strict";

// A page that comes back out of the browser's memory after signing out must not show a patient.
addEventListener("pagehide", () => { document.documentElement.style.visibility = "hidden"; });
addEventListener("pageshow", (event) => {
  if (event.persisted) location.reload(); else document.documentElement.style.visibility = "";
});
