// The board: which of the frames is shown. What stands on a frame, and what stays
// above it, the desk has worked out; everything is in the page already.

// state reads the part of the address behind #.
const state = () => new URLSearchParams(location.hash.slice(1));

// follow shows one frame of a window, keeps the address and the other windows of
// the same working in step, and returns what moves it.
export function follow(main, name, shown) {
  const all = [...main.querySelectorAll(".frame")];
  const told = main.querySelector("[data-told]");
  const channel = "BroadcastChannel" in window ? new BroadcastChannel(name) : null;
  let at = -1;

  const line = () => {
    const n = Number.parseInt(state().get("line"), 10);
    return Number.isNaN(n) ? 0 : n;
  };
  const keep = (change) => {
    const s = state();
    change(s);
    history.replaceState(null, "", "#" + s.toString().replaceAll("%2C", ","));
  };
  const show = (n, heard) => {
    n = Math.max(0, Math.min(all.length - 1, n));
    if (n === at) return;
    at = n;
    const above = new Set(all[n].dataset.above?.split(" ").filter(Boolean).map(Number));
    all.forEach((f, i) => {
      f.hidden = i !== n && !above.has(i);
      f.classList.toggle("now", i === n);
      f.classList.toggle("stands", above.has(i));
    });
    told.textContent = all[n].dataset.say;
    keep((s) => s.set("line", n));
    for (const place of main.querySelectorAll("[data-place]")) place.textContent = main.querySelector(`[data-go="${n}"] .place`).textContent;
    for (const a of main.querySelectorAll("[data-go]")) {
      if (Number(a.dataset.go) === n) a.setAttribute("aria-current", "true");
      else a.removeAttribute("aria-current");
    }
    shown(n, all[n]);
    if (!heard) channel?.postMessage({ at });
  };

  const doing = {
    on: () => show(at + 1),
    back: () => show(at - 1),
    first: () => show(0),
    last: () => show(all.length - 1),
    lines: () => toggle("lines"),
    keys: () => toggle("keys"),
    dark: () => look(dark() ? "light" : "dark"),
  };

  // Dialogs.
  const toggle = (which) => {
    const d = main.querySelector(`dialog[data-dialog="${which}"]`);
    if (d.open) d.close();
    else {
      d.showModal();
      (d.querySelector("[aria-current]") ?? d.querySelector("button")).focus();
    }
  };
  main.addEventListener("click", (e) => {
    const go = e.target.closest("[data-go]");
    if (!go) return;
    e.preventDefault();
    go.closest("dialog").close();
    show(Number(go.dataset.go));
    main.focus();
  });

  // Dark or light.
  const root = document.documentElement;
  const dark = () => (root.dataset.look || (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light")) === "dark";
  const pressed = (act, on) => {
    for (const b of main.querySelectorAll(`[data-act="${act}"]`)) b.setAttribute("aria-pressed", String(on));
  };
  const look = (l) => {
    root.dataset.look = l;
    keep((s) => s.set("look", l));
    pressed("dark", dark());
  };
  if (["dark", "light"].includes(state().get("look"))) root.dataset.look = state().get("look");
  pressed("dark", dark());

  // Keys. A control keeps those that work it; a dialog keeps all.
  const keys = new Map([
    [" ", "on"], ["ArrowRight", "on"], ["ArrowDown", "on"], ["PageDown", "on"],
    ["ArrowLeft", "back"], ["ArrowUp", "back"], ["PageUp", "back"],
    ["Home", "first"], ["End", "last"], ["j", "lines"], ["d", "dark"], ["?", "keys"],
  ]);
  addEventListener("keydown", (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey || e.isComposing || e.defaultPrevented) return;
    const key = e.key.length === 1 ? e.key.toLowerCase() : e.key;
    if (main.querySelector("dialog[open]")) {
      if (key === "?") doing.keys();
      return;
    }
    if (key === " " && e.target.closest?.("button,a")) return;
    let act = keys.get(key);
    if (!act || !doing[act]) return;
    // A page that is taller than the window can still be moved up and down.
    if (["ArrowUp", "ArrowDown"].includes(key) && root.scrollHeight > innerHeight + 1) return;
    e.preventDefault();
    if (e.repeat) return; // a key that is held down does not give the answer away
    if (key === " " && e.shiftKey) act = "back";
    doing[act]();
  });
  for (const b of main.querySelectorAll("[data-act]")) {
    b.addEventListener("click", (e) => {
      const act = doing[b.dataset.act];
      if (!act) return;
      e.preventDefault();
      act();
      if (e.detail > 0 && !main.querySelector("dialog[open]")) main.focus(); // with the mouse: keys go to the page again
    });
  }

  addEventListener("hashchange", () => show(line()));
  channel?.addEventListener("message", ({ data }) => {
    if (data.ask) channel.postMessage({ at, here: main.className.split(" ")[0] });
    else if (Number.isInteger(data.at)) show(data.at, true);
    main.dispatchEvent(new CustomEvent("heard", { detail: data }));
  });
  addEventListener("pagehide", () => channel?.postMessage({ gone: main.className.split(" ")[0] }));

  main.classList.add("live");
  history.scrollRestoration = "manual"; // each frame is seen from its top
  addEventListener("load", () => scrollTo(0, 0));
  for (const e of main.querySelectorAll(".controls,.clock")) e.hidden = false;
  show(line(), true);
  channel?.postMessage({ ask: true, here: main.className.split(" ")[0] });
  main.focus({ preventScroll: true });
  return { show, doing, keys, keep, pressed };
}

// board sets the page of the class up.
function board(main) {
  const root = document.documentElement;
  let now;

  // fit makes a line smaller where each of its sides then stands on one row, lets
  // the oldest of the lines above go, and makes all smaller until the frame has
  // room. What still has none can be scrolled.
  const fit = () => {
    if (!now) return;
    const scale = (name, k) => main.style.setProperty(name, k.toFixed(2));
    scale("--line", 1);
    scale("--fit", 1);
    const above = [...main.querySelectorAll(".stands")];
    for (const f of above) f.hidden = false;
    const sides = [...now.querySelectorAll(".left,.right")];
    const rows = () => Math.max(0, ...sides.map((e) => new Set([...e.querySelectorAll(".f .f")].map((f) => Math.round(f.getBoundingClientRect().bottom / 8))).size));
    let k = 1;
    while (k > 0.66 && rows() > 1) scale("--line", (k -= 0.04));
    if (rows() > 1) scale("--line", 1);
    const wide = () => root.scrollWidth > root.clientWidth || [...now.querySelectorAll(".eq,.text,.ledger")].some((e) => e.scrollWidth > e.clientWidth + 1);
    const over = () => root.scrollHeight > innerHeight + 1 || wide();
    for (const f of above.slice(0, -1)) {
      if (!over()) return;
      f.hidden = true;
    }
    for (k = 0.95; k > 0.55 && over(); k -= 0.05) scale("--fit", k);
    if (over() && above.length) above.at(-1).hidden = true;
  };

  const { doing, keys, keep, pressed } = follow(main, main.dataset.board, (n, frame) => {
    now = frame;
    main.classList.toggle("at-question", frame.classList.contains("question"));
    main.classList.toggle("at-answer", frame.classList.contains("answer"));
    main.classList.toggle("counts", Boolean(frame.querySelector(".ledger")));
    fit();
    if (root.scrollHeight > innerHeight + 1) frame.scrollIntoView({ block: "nearest" });
  });

  // What can be hidden.
  const hidden = new Set((state().get("hide") ?? "").split(",").filter(Boolean));
  const apply = () => {
    for (const what of ["reasons", "ledger"]) {
      main.classList.toggle("no-" + what, hidden.has(what));
      pressed(what, !hidden.has(what));
    }
    fit();
  };
  for (const what of ["reasons", "ledger"]) {
    doing[what] = () => {
      if (!hidden.delete(what)) hidden.add(what);
      keep((s) => (hidden.size ? s.set("hide", [...hidden].join(",")) : s.delete("hide")));
      apply();
    };
  }
  keys.set("r", "reasons").set("l", "ledger").set("f", "full").set("p", "presenter");
  apply();

  if (document.fullscreenEnabled) {
    doing.full = () => (document.fullscreenElement ? document.exitFullscreen() : root.requestFullscreen().catch(() => {}));
    addEventListener("fullscreenchange", () => pressed("full", Boolean(document.fullscreenElement)));
  } else main.querySelector('[data-act="full"]').hidden = true;
  window.name ||= "board"; // so that the presenter's window leads back to this one
  const presenter = main.querySelector('a[data-act="presenter"]');
  doing.presenter = () => window.open(presenter.href + location.hash, "presenter", "popup,width=1000,height=720");

  // A tap on the right goes on, one on the left goes back.
  main.addEventListener("click", (e) => {
    if (e.target.closest("a,button,dialog,.controls") || !getSelection().isCollapsed) return;
    doing[e.clientX < innerWidth / 3 ? "back" : "on"]();
  });

  // On a full screen the controls go when the pointer rests.
  let rest;
  const stir = () => {
    main.classList.remove("idle");
    clearTimeout(rest);
    if (document.fullscreenElement) rest = setTimeout(() => main.classList.add("idle"), 3000);
  };
  for (const e of ["pointermove", "pointerdown", "fullscreenchange"]) addEventListener(e, stir);

  addEventListener("resize", fit);
  document.fonts?.load('700 1em "STIX Two Text"').then(fit, () => {}); // so that nothing is fetched later
  document.fonts?.ready.then(fit);
}

const main = document.querySelector("main[data-board]");
if (main) board(main);
