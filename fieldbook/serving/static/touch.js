"use strict";

// What a finger does, passed to the app as a terminal would send it. Runs before textual.js, which
// makes the terminal, and looks on at its websocket.

const FONT_PX = 21; // a cell is then 28 px high, above the 24 px that WCAG 2.2, 2.5.8 asks for
const LEAST_PX = 12;
const COLUMNS = 60; // the narrowest screen that fieldbook fits
const CELL = 0.6; // the width of a letter of the font, of its size

const KEYS = [
  ["Esc", "\x1b"], ["Tab", "\t"], ["Space", " "], ["Enter", "\r"],
  ["◀", "\x1b[D", "left"], ["▲", "\x1b[A", "up"], ["▼", "\x1b[B", "down"], ["▶", "\x1b[C", "right"],
  ["Next", "\x0e", "next cell that wants a value"], ["Undo", "\x1a"], ["All", "\x10", "every action"],
];

// The policy of the page lets in only style elements with its nonce; the terminal makes some.
const nonce = document.currentScript.nonce;
const make = Document.prototype.createElement;
Document.prototype.createElement = function (name, ...rest) {
  const element = make.call(this, name, ...rest);
  if (String(name).toLowerCase() === "style") element.nonce = nonce;
  return element;
};

let socket = null;
let cells = { width: 80, height: 24 };
let sentence = "";
let pinned = false; // the keyboard was asked for by its own button

window.WebSocket = class extends WebSocket {
  constructor(url) {
    super(url);
    socket = this;
    this.addEventListener("message", hear);
    this.addEventListener("close", end);
  }

  send(text) {
    const [kind, value] = JSON.parse(text);
    if (kind === "resize") cells = value;
    super.send(text);
  }
};

function send(keys) {
  if (socket && socket.readyState === WebSocket.OPEN) socket.send(JSON.stringify(["stdin", keys]));
}

function hear(event) {
  if (typeof event.data !== "string") return;
  const [kind, value] = JSON.parse(event.data);
  if (kind === "sentence") sentence = value;
  if (kind === "keyboard" && !pinned) keyboard(value);
}

function end(event) {
  const broken = event.code !== 1000 && "The connection to fieldbook serve broke off.";
  const said = document.getElementById("said");
  said.querySelector("p").textContent =
    sentence || `${broken || "fieldbook is closed."} Every entry is on disk.`;
  said.hidden = false;
}

// The keyboard on the screen comes with the focus on a field, unless that asks for none.
function keyboard(wanted) {
  const field = document.querySelector(".xterm-helper-textarea");
  if (!field) return;
  const mode = wanted ? "text" : "none";
  const button = document.getElementById("keyboard");
  button.setAttribute("aria-pressed", String(wanted));
  if (field.inputMode !== mode) {
    field.inputMode = mode;
    field.blur();
  }
  field.focus({ preventScroll: true });
}

function cellAt(touch) {
  const box = document.querySelector(".xterm-screen").getBoundingClientRect();
  const at = (offset, size, count) => Math.min(Math.max(Math.ceil((offset / size) * count), 1), count);
  return `${at(touch.clientX - box.left, box.width, cells.width)};${at(touch.clientY - box.top, box.height, cells.height)}`;
}

// A tap is a click of the mouse, a swipe turns its wheel.
function watchFingers(terminal) {
  let began = null;
  let moved = false;
  terminal.addEventListener("touchstart", (event) => {
    event.preventDefault(); // no mouse events made up by the browser besides
    began = event.touches.length === 1 ? event.touches[0] : null;
    moved = false;
  }, { passive: false });
  terminal.addEventListener("touchmove", (event) => {
    event.preventDefault();
    if (!began) return;
    const now = event.touches[0];
    const screen = document.querySelector(".xterm-screen");
    const row = screen.clientHeight / cells.height;
    const down = Math.trunc((now.clientY - began.clientY) / row);
    const right = Math.trunc((now.clientX - began.clientX) / row);
    if (!down && !right) return;
    moved = true;
    const at = cellAt(began);
    if (down) send(`\x1b[<${down > 0 ? 64 : 65};${at}M`.repeat(Math.abs(down)));
    if (right) send(`\x1b[<${right > 0 ? 66 : 67};${at}M`.repeat(Math.abs(right)));
    began = now;
  }, { passive: false });
  terminal.addEventListener("touchend", (event) => {
    event.preventDefault();
    if (!began || moved) return;
    const at = cellAt(began);
    send(`\x1b[<0;${at}M\x1b[<0;${at}m`);
    keyboard(pinned);
    began = null;
  }, { passive: false });
}

function addButton(label, about, press) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = label;
  if (about) button.setAttribute("aria-label", about);
  button.addEventListener("mousedown", (event) => event.preventDefault()); // the field keeps the focus
  button.addEventListener("click", press);
  document.getElementById("bar").append(button);
  return button;
}

function fill() {
  // The keyboard on the screen covers the page: what is left of it is the page's height.
  document.body.style.height = `${window.visualViewport.height}px`;
  if (window.onresize) window.onresize();
}

document.addEventListener("DOMContentLoaded", () => {
  history.replaceState(null, "", "/"); // the key is spent
  const terminal = document.getElementById("terminal");
  const fits = Math.floor(terminal.clientWidth / COLUMNS / CELL);
  terminal.dataset.fontSize = Math.max(Math.min(FONT_PX, fits), LEAST_PX);
  for (const [label, keys, about] of KEYS) addButton(label, about, () => send(keys));
  addButton("Type", "keyboard on the screen", () => keyboard((pinned = !pinned))).id = "keyboard";
  document.querySelector("#said button").addEventListener("click", () => location.reload());
  watchFingers(terminal);
  window.visualViewport.addEventListener("resize", fill);
  const start = window.onload; // textual.js makes the terminal then, which measures the font
  window.onload = async (event) => {
    await Promise.all(["", "bold "].map((weight) => document.fonts.load(`${weight}21px "Roboto Mono"`)));
    start(event);
    keyboard(false);
  };
});
