// An answer that is drawn again while somebody types: what was open stays open.
const answer = document.querySelector("[data-live]");
let open = new Map();
document.body.addEventListener("htmx:beforeSwap", (event) => {
  if (event.detail.target !== answer) return;
  open = new Map([...answer.querySelectorAll("details[data-keep]")].map((d) => [d.dataset.keep, d.open]));
});
document.body.addEventListener("htmx:afterSwap", (event) => {
  if (event.detail.target !== answer) return;
  for (const part of answer.querySelectorAll("details[data-keep]")) part.open = open.get(part.dataset.keep) ?? part.open;
});

// What no longer belongs to the form says so; a message inside a folded part opens that part.
const stale = document.getElementById("stale");
document.body.addEventListener("htmx:afterRequest", () => document.querySelectorAll("form details:has(.errorlist)").forEach((part) => { part.open = true; }));
document.body.addEventListener("htmx:sendError", () => { stale.hidden = false; });
document.body.addEventListener("htmx:afterSwap", () => { stale.hidden = true; });
