// The window of who speaks: in step with the board, with a clock.
import { follow } from "./board.js";

const main = document.querySelector("main[data-presenter]");
const linked = main.querySelector("[data-linked]");
const say = (text) => {
  if (linked.textContent !== text) linked.textContent = text;
};
say("No board is open.");
main.addEventListener("heard", ({ detail }) => {
  if (detail.here === "board") say("In step with the board.");
  if (detail.gone === "board") say("The board was closed.");
});
const { doing, keys } = follow(main, main.dataset.presenter, () => scrollTo(0, 0));
const open = main.querySelector('[data-act="board"]');
doing.board = () => window.open(open.href + location.hash, "board");

// The clock: how long it ran before, and since when it runs. A reload keeps both.
const kept = "clock:" + main.dataset.presenter;
let clock = { ran: 0, since: 0 };
try {
  clock = { ...clock, ...JSON.parse(sessionStorage.getItem(kept) ?? "{}") };
} catch {}
const elapsed = main.querySelector("[data-elapsed]");
const day = main.querySelector("[data-now]");
const button = main.querySelector('[data-act="clock"]');
const tick = () => {
  const s = Math.floor((clock.ran + (clock.since ? Date.now() - clock.since : 0)) / 1000);
  const two = (n) => String(n).padStart(2, "0");
  elapsed.textContent = (s >= 3600 ? Math.floor(s / 3600) + ":" + two(Math.floor(s / 60) % 60) : Math.floor(s / 60)) + ":" + two(s % 60);
  day.textContent = new Date().toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
  button.textContent = clock.since ? "Pause the clock" : clock.ran ? "Go on" : "Start the clock";
};
const set = (c) => {
  clock = c;
  try {
    sessionStorage.setItem(kept, JSON.stringify(clock));
  } catch {}
  tick();
};
doing.clock = () => set(clock.since ? { ran: clock.ran + Date.now() - clock.since, since: 0 } : { ran: clock.ran, since: Date.now() });
doing.zero = () => set({ ran: 0, since: 0 });
keys.set("t", "clock");
setInterval(tick, 500);
tick();
