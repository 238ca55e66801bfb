// Writing a brief: °F beside every °C, a search among the agents, and no loss of what is typed.
const form = document.getElementById("brief-form");
let isDirty = false;

const minus = (text) => text.replace("-", "\u2212");
const told = (text) => {
  const celsius = Number(text.trim().replace(",", ".").replace("\u2212", "-"));
  if (!text.trim() || !Number.isFinite(celsius)) return "";
  const digits = Math.abs(celsius - Math.round(celsius)) < 0.05 ? 0 : 1;
  return minus(`${celsius.toFixed(digits)} °C (${(celsius * 1.8 + 32).toFixed(digits)} °F)`);
};
for (const field of form.querySelectorAll("[data-celsius]")) {
  const hint = document.getElementById(`${field.id}_helptext`);
  const first = hint.textContent;
  field.addEventListener("input", () => { hint.textContent = told(field.value) || (field.defaultValue ? "" : first); });
}

// What a word of the trade means, in full.
for (const choice of form.querySelectorAll("[data-told]")) {
  const hint = document.getElementById(`${choice.id}_helptext`);
  choice.addEventListener("input", () => { hint.textContent = choice.selectedOptions[0].text.split(": ")[1] ?? ""; });
}

// Only the agents whose name holds what is typed, and those that are ticked.
const find = form.querySelector("[data-find]");
find.parentElement.hidden = false;
find.addEventListener("input", (event) => {
  event.stopPropagation();
  const word = find.value.trim().toLowerCase();
  for (const box of form.querySelectorAll("input[name=shelf]")) {
    const row = box.closest("label").parentElement;
    row.hidden = !box.checked && !row.textContent.toLowerCase().includes(word);
  }
});
find.addEventListener("keydown", (event) => { if (event.key === "Enter") event.preventDefault(); });

// Leaving with unsaved writing is asked about; saving and showing are not.
form.addEventListener("input", () => { isDirty = true; });
form.addEventListener("submit", () => { isDirty = false; });
window.addEventListener("beforeunload", (event) => { if (isDirty) event.preventDefault(); });
