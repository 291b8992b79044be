// Small enhancements; every page works without them.

// A field with data-live asks for the reading of what is typed and puts it into
// the element that data-into names. An answer that was overtaken is dropped.
for (const field of document.querySelectorAll("[data-live]")) {
  const into = document.getElementById(field.dataset.into);
  let waiting, asked;
  const ask = async () => {
    asked?.abort();
    asked = new AbortController();
    const address = new URL(field.dataset.live, location);
    address.searchParams.set("q", field.value);
    try {
      const answer = await fetch(address, { signal: asked.signal });
      if (answer.ok) into.innerHTML = await answer.text(); // made and escaped by the desk
    } catch (e) {
      if (e.name !== "AbortError") into.textContent = "The desk does not answer. What you typed is still here.";
    }
  };
  field.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(ask, 120);
  });
  if (field.value && !into.textContent.trim() && !document.querySelector(".mistake")) ask();
}

// Enter works a question; with Shift it begins a new line.
for (const form of document.querySelectorAll("form[data-work]")) {
  form.querySelector("textarea")?.addEventListener("keydown", (e) => {
    if (e.key === "Enter" && !e.shiftKey && !e.isComposing) {
      e.preventDefault();
      form.requestSubmit();
    }
  });
}

// Empty fields and conventions that were not changed stay out of the address.
for (const form of document.querySelectorAll("form[method=get]")) {
  const usual = new Map([...form.querySelectorAll(".conventions select")].map((s) => [s.name, s.value]));
  form.addEventListener("formdata", (e) => {
    for (const [name, value] of [...e.formData]) {
      if (value === "" || usual.get(name) === value && !new URLSearchParams(location.search).has(name)) e.formData.delete(name);
    }
  });
}

// What is copied is told where the button is.
export async function copy(text, button) {
  const was = button.textContent;
  try {
    await navigator.clipboard.writeText(text);
    button.textContent = "Copied";
  } catch {
    button.textContent = "Copying is not allowed here";
  }
  setTimeout(() => (button.textContent = was), 1600);
}
for (const button of document.querySelectorAll("[data-copy]")) {
  button.hidden = false;
  button.addEventListener("click", () => {
    const text = "copyLink" in button.dataset ? new URL(button.dataset.copy, location).href : button.dataset.copy;
    copy(text, button);
  });
}

// A form that could not be sent keeps what was typed: the browser's own history
// has it, and so does the session, until it was taken.
for (const form of document.querySelectorAll("form[data-keep]")) {
  const key = "keep:" + location.pathname + ":" + form.dataset.keep;
  const fields = form.querySelectorAll("textarea,input[type=text]");
  try {
    const kept = JSON.parse(sessionStorage.getItem(key) ?? "{}");
    for (const f of fields) if (!f.value && kept[f.name]) f.value = kept[f.name];
  } catch {}
  form.addEventListener("input", () => {
    sessionStorage.setItem(key, JSON.stringify(Object.fromEntries([...fields].map((f) => [f.name, f.value]))));
  });
}
