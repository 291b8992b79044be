// The marks follow what is typed after a pause. The form works without this; what
// is in it is never sent away by an answer.

const form = document.querySelector("form[data-marker]");
const judged = document.getElementById("judged");
const told = document.getElementById("told");
const question = document.getElementById("q");
const working = document.getElementById("working");
let waiting, asked;
form.classList.add("live"); // what only asks for another answer is not needed

// What is open and where one is typing stays so when the judgement is replaced.
function put(html) {
  const open = [...judged.querySelectorAll("details[open]")].map((d) => d.id);
  const at = judged.contains(document.activeElement) ? document.activeElement : null;
  const range = at && "selectionStart" in at ? [at.selectionStart, at.selectionEnd] : null;
  judged.innerHTML = html; // made and escaped by the desk
  for (const id of open) document.getElementById(id)?.setAttribute("open", "");
  const there = at?.id && document.getElementById(at.id);
  if (there) {
    there.focus({ preventScroll: true });
    if (range?.[0] != null) there.setSelectionRange?.(...range);
  }
  told.textContent = judged.querySelector("[data-told]")?.textContent ?? "";
  document.querySelector("[data-empty]")?.remove();
  return Boolean(there);
}

async function ask(button) {
  clearTimeout(waiting);
  asked?.abort();
  if (!question.value.trim() && !working.value.trim()) {
    judged.textContent = told.textContent = "";
    return;
  }
  const mine = (asked = new AbortController());
  judged.setAttribute("aria-busy", "true");
  const slow = setTimeout(() => (told.textContent = "Judging…"), 400);
  try {
    const answer = await fetch("/marker/judged", { method: "POST", body: new FormData(form, button), signal: mine.signal });
    const text = await answer.text();
    if (!answer.ok) throw new Error(new DOMParser().parseFromString(text, "text/html").querySelector(".what")?.textContent ?? "");
    const focused = put(text);
    if (button?.name === "overrule") document.getElementById("panel-verdict")?.focus();
    else if (button?.name === "panel" && document.querySelector("#panel .mistake")) document.getElementById("panel-verdict").focus();
    else if (button?.name && !focused) document.getElementById("outcome")?.closest("section").querySelector("h2").scrollIntoView({ block: "nearest" });
  } catch (e) {
    if (e.name === "AbortError") return;
    told.textContent = (e instanceof TypeError ? "The desk does not answer." : e.message || "That could not be judged.") + " What you typed is still here.";
  } finally {
    clearTimeout(slow);
    if (asked === mine) judged.removeAttribute("aria-busy");
  }
}

form.addEventListener("input", (e) => {
  if (e.target.name?.startsWith("panel-") || e.target.name === "kept") return;
  clearTimeout(waiting);
  waiting = setTimeout(ask, e.target.type === "checkbox" ? 0 : 500);
});

// Buttons that hand out a file go their own way.
form.addEventListener("submit", (e) => {
  if (e.submitter?.formAction && new URL(e.submitter.formAction).pathname !== "/marker") return;
  e.preventDefault();
  ask(e.submitter ?? undefined);
});

// A question that is kept is put into the field, where it can be changed.
const kept = document.getElementById("kept");
kept?.addEventListener("change", () => {
  const chosen = kept.selectedOptions[0];
  if (!kept.value) return;
  question.value = chosen.text;
  document.getElementById("medium").value = chosen.dataset.medium ?? "";
  kept.value = "";
  question.dispatchEvent(new Event("input", { bubbles: true }));
});

document.querySelector("[data-anew]")?.addEventListener("click", (e) => sessionStorage.removeItem("keep:" + location.pathname + ":" + e.currentTarget.dataset.anew));

if (question.value.trim() && !judged.textContent.trim()) ask();
