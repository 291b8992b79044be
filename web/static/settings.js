// The example under the conventions follows them while they are chosen.
const example = document.querySelector("[data-example]");
if (example) {
  const form = example.closest("form");
  let asked;
  const show = async () => {
    asked?.abort();
    asked = new AbortController();
    const address = new URL(example.dataset.example, location);
    for (const s of form.querySelectorAll(".conventions select")) address.searchParams.set(s.name, s.value);
    try {
      const answer = await fetch(address, { signal: asked.signal });
      if (answer.ok) example.innerHTML = await answer.text(); // made and escaped by the desk
    } catch (e) {
      if (e.name !== "AbortError") example.textContent = "The desk does not answer. What you chose is still here.";
    }
  };
  form.querySelector(".conventions").addEventListener("change", show);
  // A browser that comes back to the page puts back what was chosen.
  const usual = [...form.querySelectorAll(".conventions select")].every((s) => s.options[s.selectedIndex].defaultSelected || s.selectedIndex === 0 && ![...s.options].some((o) => o.defaultSelected));
  if (!usual) show();
}

// A file that is too large is told before it is sent, and a large one is waited for.
for (const form of document.querySelectorAll("form[data-most]")) {
  const file = form.querySelector("input[type=file]"), wait = form.querySelector("[data-wait]");
  file.addEventListener("change", () => {
    const large = file.files[0]?.size > Number(form.dataset.most);
    file.setCustomValidity(large ? "This file is too large to be a backup of Halves." : "");
    file.reportValidity();
  });
  form.addEventListener("submit", () => (wait.textContent = "The backup is being read and checked. Please wait."));
}
