// Choosing questions, and moving them within a set. Every act here is a form that
// works without this module.

// A form that takes a while says so, and is sent once.
for (const form of document.querySelectorAll("form[data-busy]")) {
  form.addEventListener("submit", () => {
    const button = form.querySelector("button:not([type=button])");
    button.textContent = form.dataset.busy + " …";
    button.setAttribute("aria-disabled", "true");
    form.addEventListener("submit", (e) => e.preventDefault());
  });
}
addEventListener("pageshow", (e) => e.persisted && document.querySelector("form[data-busy]") && location.reload());

// How many are ticked; a title is asked for where the set is new.
const adding = document.getElementById("adding");
if (adding) {
  const into = adding.elements.set, title = adding.querySelector("[data-for-new]"), told = adding.querySelector("[data-chosen]");
  const show = () => {
    const n = document.querySelectorAll("input[name=pick]:checked").length;
    told.textContent = n ? ` ${n} question${n === 1 ? "" : "s"}` : "";
    title.hidden = into.value !== "new";
  };
  document.addEventListener("change", show);
  addEventListener("pageshow", show);
  show();
}

// The list of a set. After each change the desk sends the page anew, and what it
// shows of the set takes the place of what was there.
const say = (text) => {
  const live = document.querySelector("[data-live-region]");
  if (live) live.textContent = text;
};

let sending = false;

async function send(form, act, focus) {
  if (sending) return false;
  sending = true;
  try {
    const data = new FormData(form);
    data.set("do", act);
    const answer = await fetch(form.action, { method: "POST", body: new URLSearchParams(data) });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("[data-set]");
    if (!page) throw new Error("no set");
    const at = scrollY;
    document.querySelector("[data-set]").replaceWith(document.adoptNode(page));
    begin();
    scrollTo({ top: at, behavior: "instant" });
    focus.map((f) => document.querySelector(f)).find((f) => f)?.focus({ preventScroll: answer.ok });
    const wrong = page.querySelector(".mistake .what");
    say((wrong ?? page.querySelector(".done p"))?.textContent ?? "");
    return !wrong;
  } catch {
    let told = document.getElementById("silent");
    if (!told) {
      told = Object.assign(document.createElement("p"), { id: "silent", className: "mistake" });
      told.setAttribute("role", "alert");
      form.before(told);
    }
    told.textContent = "The desk does not answer, so nothing was kept. Try it again in a moment.";
    return false;
  } finally {
    sending = false;
  }
}

function begin() {
  const list = document.querySelector("[data-order]");
  if (!list) return;
  const form = list.closest("form");
  const items = () => [...list.querySelectorAll(":scope>.item")];
  const first = Number(list.firstElementChild?.dataset.number ?? 1);

  // Marks are kept by a button that is there once some were typed.
  const keep = form.querySelector("[data-marks]");
  keep.hidden = true;
  form.addEventListener("input", () => (keep.hidden = false));

  form.addEventListener("submit", async (e) => {
    const act = e.submitter?.value ?? "marks";
    const [what, from, to] = act.split("-");
    e.preventDefault();
    const on = Number(to) + Math.sign(to - from); // where the same button would put it next
    const focus = {
      move: [`#q${to} [value="move-${to}-${on}"]`, `#q${to} .step`],
      remove: [`#q${from} .grip`, `#q${from - 1} .grip`],
    }[what] ?? ["[data-order] input"];
    await send(form, act, focus);
  });

  // Lifted is the item that is being moved, from its place among the others.
  let lifted, place, grabbed;
  const lift = (item) => {
    lifted = item;
    place = items().indexOf(item);
    item.classList.add("lifted");
  };
  const where = () => items().indexOf(lifted) + first;
  const put = (k) => {
    // The others make room: what is moved itself would lose the focus and the pointer.
    for (let at = items().indexOf(lifted); at < k && lifted.nextElementSibling; at++) list.insertBefore(lifted.nextElementSibling, lifted);
    for (let at = items().indexOf(lifted); at > k && lifted.previousElementSibling; at--) list.insertBefore(lifted.previousElementSibling, lifted.nextElementSibling);
  };
  const leave = () => {
    put(place);
    lifted.classList.remove("lifted");
    lifted = undefined;
  };
  const drop = async () => {
    const from = place + first, to = where(), item = lifted;
    if (from === to) {
      leave();
      return;
    }
    item.classList.remove("lifted");
    if (!(await send(form, `move-${from}-${to}`, [`#q${to} .grip`])) && item.isConnected) {
      lifted = item;
      leave();
    }
    lifted = undefined;
  };

  for (const grip of list.querySelectorAll(".grip")) {
    const item = grip.closest(".item");
    grip.hidden = false;
    grip.addEventListener("keydown", async (e) => {
      const step = { ArrowUp: -1, ArrowDown: 1 }[e.key];
      if (e.key === " " || e.key === "Enter") {
        e.preventDefault();
        if (e.repeat) return;
        if (lifted) await drop();
        else {
          lift(item);
          say(`Question ${item.dataset.number} is lifted. It is number ${where()} of ${items().length + first - 1}.`);
        }
      } else if (lifted && (step || e.key === "Home" || e.key === "End")) {
        e.preventDefault();
        put(step ? items().indexOf(lifted) + step : e.key === "Home" ? 0 : items().length - 1);
        lifted.scrollIntoView({ block: "nearest" });
        say(`Number ${where()} of ${items().length + first - 1}.`);
      } else if (lifted && e.key === "Escape") {
        leave();
        say("Left where it was.");
      }
    });
    grip.addEventListener("blur", () => setTimeout(() => {
      if (lifted === item && grabbed === undefined && document.activeElement !== grip && !sending) {
        leave();
        say("Left where it was.");
      }
    }));
    // By a pointer: what is under it makes room.
    grip.addEventListener("pointerdown", (e) => {
      if (e.button !== 0 || lifted || sending) return;
      e.preventDefault();
      grip.focus({ preventScroll: true });
      grip.setPointerCapture(e.pointerId);
      grabbed = e.pointerId;
      lift(item);
    });
    grip.addEventListener("pointermove", (e) => {
      if (grabbed !== e.pointerId) return;
      const edge = 60, speed = e.clientY < edge ? -1 : e.clientY > innerHeight - edge ? 1 : 0;
      if (speed) scrollBy(0, speed * 12);
      const others = items().filter((x) => x !== lifted);
      let k = others.findIndex((x) => {
        const r = x.getBoundingClientRect();
        return e.clientY < r.top + r.height / 2;
      });
      put(k < 0 ? others.length : k);
    });
    const end = (keepIt) => async (e) => {
      if (grabbed !== e.pointerId) return;
      grabbed = undefined;
      if (keepIt) await drop();
      else leave();
    };
    grip.addEventListener("pointerup", end(true));
    grip.addEventListener("pointercancel", end(false));
  }
}
begin();
