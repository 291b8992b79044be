// Elements are found while one types; what slides is drawn anew while it slides.
// Every page works without this.

const filter = document.querySelector("[data-filter]");
if (filter) {
  const list = document.getElementById(filter.dataset.filter);
  const told = document.getElementById(filter.getAttribute("aria-describedby"));
  filter.parentElement.hidden = false;
  filter.addEventListener("input", () => {
    const typed = filter.value.trim().toLowerCase();
    let left = 0;
    for (const item of list.children) {
      // A symbol is meant whole, a name from the beginning of a word.
      item.hidden = !item.dataset.words.toLowerCase().split(" ").some((w) => w.startsWith(typed));
      left += !item.hidden;
    }
    told.textContent = typed ? `${left} elements` : "";
  });
  // Enter goes to the only one that is left, or to the symbol that was typed.
  filter.addEventListener("keydown", (e) => {
    if (e.key !== "Enter") return;
    const left = [...list.children].filter((i) => !i.hidden);
    const typed = filter.value.trim().toLowerCase();
    const exact = left.find((i) => i.querySelector(".symbol").textContent.toLowerCase() === typed);
    const to = exact ?? (left.length === 1 ? left[0] : null);
    to?.querySelector("a").click();
  });
}

for (const form of document.querySelectorAll("form[data-slide]")) {
  const into = document.getElementById(form.dataset.into);
  const said = document.querySelector(`[data-said="${form.dataset.into}"]`);
  const sliders = [...form.querySelectorAll("input[type=range]")];
  let waiting, asked, saying;
  form.classList.add("live");

  const number = (text) => Number(text.trim().replace("\u2212", "-").replace(",", "."));
  const spell = (x) => String(Number(x.toPrecision(2)));

  const ask = async () => {
    asked?.abort(); // an answer that was overtaken is dropped
    const mine = (asked = new AbortController());
    const query = new URLSearchParams([...new FormData(form)].filter(([, v]) => v !== ""));
    try {
      const answer = await fetch(form.dataset.slide + "?" + query, { signal: mine.signal });
      const text = await answer.text();
      if (!answer.ok) throw new Error("refused");
      const open = [...into.querySelectorAll("details[open]")].map((d) => d.id);
      into.innerHTML = text; // made and escaped by the desk
      for (const id of open) document.getElementById(id)?.setAttribute("open", "");
      history.replaceState(null, "", location.pathname + "?" + query + location.hash);
      clearTimeout(saying);
      saying = setTimeout(() => (said.textContent = into.querySelector("[data-told], .mistake .what")?.textContent ?? "Drawn anew."), 600);
    } catch (e) {
      if (e.name !== "AbortError") said.textContent = "The desk does not answer. What you typed is still here.";
    }
  };
  const soon = (pause) => {
    clearTimeout(waiting);
    waiting = setTimeout(ask, pause);
  };

  for (const slider of sliders) {
    const field = document.getElementById(slider.dataset.for);
    const log = "log" in slider.dataset;
    const told = () => slider.setAttribute("aria-valuetext", field.value + (slider.dataset.unit ? " " + slider.dataset.unit : ""));
    slider.hidden = false;
    told();
    slider.addEventListener("input", () => {
      field.value = log ? spell(10 ** slider.valueAsNumber) : String(slider.valueAsNumber);
      told();
      soon(40);
    });
    field.addEventListener("input", () => {
      const x = number(field.value);
      if (log ? x > 0 : !Number.isNaN(x)) slider.value = log ? Math.log10(x) : x;
      told();
      soon(250);
    });
  }
  form.addEventListener("input", (e) => {
    if (!sliders.includes(e.target) && !sliders.some((s) => s.dataset.for === e.target.id)) soon(400);
  });
  form.addEventListener("submit", (e) => {
    e.preventDefault();
    clearTimeout(waiting);
    ask();
  });
}
