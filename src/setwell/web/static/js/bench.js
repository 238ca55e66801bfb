// Writing at the bench: nothing that is typed, opened or focused gets lost by an answer.
const form = document.getElementById("formula-form");
const results = document.getElementById("results");

const openParts = () =>
  new Map([...results.querySelectorAll("details[data-keep]")].map((d) => [d.dataset.keep, d.open]));

// What was open stays open, what was being edited stays under the caret.
let kept = null;
document.body.addEventListener("htmx:beforeSwap", (event) => {
  if (event.detail.target !== results) return;
  const active = document.activeElement;
  const isField = results.contains(active) && active.id;
  kept = {
    open: openParts(),
    field: isField ? { id: active.id, value: active.value, start: active.selectionStart, end: active.selectionEnd } : null,
    scroll: document.getElementById("id_ingredients").scrollTop,
  };
});
document.body.addEventListener("htmx:afterSwap", (event) => {
  if (event.detail.target !== results || !kept) return;
  for (const part of results.querySelectorAll("details[data-keep]")) {
    if (kept.open.has(part.dataset.keep)) part.open = kept.open.get(part.dataset.keep);
  }
  const field = kept.field && document.getElementById(kept.field.id);
  if (field) {
    field.focus({ preventScroll: true });
    if (event.detail.elt === form && "value" in kept.field && field.tagName === "INPUT") {
      field.value = kept.field.value;
      field.setSelectionRange(kept.field.start, kept.field.end);
    }
  }
  document.getElementById("id_ingredients").scrollTop = kept.scroll;
});

// Results that no longer belong to the text say so.
const stale = document.getElementById("stale");
document.body.addEventListener("htmx:sendError", () => { stale.hidden = false; });
document.body.addEventListener("htmx:afterSwap", () => { stale.hidden = true; });

// Enter in a corrected line uses that line.
results.addEventListener("keydown", (event) => {
  const target = event.target.dataset.enter;
  if (event.key !== "Enter" || !target) return;
  event.preventDefault();
  document.getElementById(target).click();
});

// A finding leads to its line in the text as well, and a jump opens what is folded.
window.addEventListener("hashchange", () => document.querySelector(":target")?.closest(".fold")?.setAttribute("open", ""));
results.addEventListener("click", (event) => {
  const link = event.target.closest("a[data-line]");
  if (!link) return;
  const text = document.getElementById("id_ingredients");
  const before = text.value.split("\n").slice(0, Number(link.dataset.line) - 1).join("\n");
  const start = before.length + (link.dataset.line === "1" ? 0 : 1);
  const end = text.value.indexOf("\n", start);
  text.setSelectionRange(start, end < 0 ? text.value.length : end);
});

// A correction in the answer is unsaved writing as well.
results.addEventListener("click", (event) => {
  if (event.target.closest("button[form]")) isDirty = true;
});

// The browser brings typed text back on "back" and reload: compute it again.
window.addEventListener("pageshow", () => {
  const texts = [...form.querySelectorAll("textarea, input[type=text]")];
  if (texts.some((text) => text.value !== text.defaultValue)) {
    isDirty = true;
    htmx.trigger(form, "input");
  }
});
