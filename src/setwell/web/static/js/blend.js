// Sliders follow the numbers and the numbers follow the sliders; two agents share 100 parts.
const form = document.querySelector("[data-blend]");
const sliders = [...form.querySelectorAll("input[type=range]")];
const numberOf = (slider) => document.getElementById(slider.dataset.slides);
const follow = (slider) => {
  const text = numberOf(slider).value.replace(",", ".").trim();
  if (text && Number.isFinite(Number(text))) slider.value = text;
};
for (const slider of sliders) { slider.hidden = false; follow(slider); }

form.addEventListener("input", (event) => {
  if (event.target.type === "range") numberOf(event.target).value = event.target.value;
  const moved = event.target.dataset.slides ?? event.target.id;
  const [first, second] = ["id_part_1", "id_part_2"].map((id) => document.getElementById(id));
  const other = { id_part_1: second, id_part_2: first }[moved];
  const rest = 100 - Number((moved && document.getElementById(moved)?.value) || NaN);
  if (other && !document.getElementById("id_agent_3").value && rest >= 0) other.value = rest;
  for (const slider of sliders) if (slider !== event.target) follow(slider);
});
