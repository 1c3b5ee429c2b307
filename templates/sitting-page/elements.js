// Makes elements. A text becomes a text node and never markup; whatever stands in a protocol stays text.
function el(tag, props = {}, ...children) {
  const [name, ...classes] = tag.split(".");
  const node = document.createElement(name);
  if (classes.length > 0) {
    node.className = classes.join(" ");
  }
  for (const [key, value] of Object.entries(props)) {
    if (key.startsWith("on")) {
      node.addEventListener(key.slice(2), value);
    } else if (value === true) {
      node.setAttribute(key, "");
    } else if (value !== false && value !== null && value !== undefined) {
      node.setAttribute(key, value);
    }
  }
  node.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== ""));
  return node;
}

// Words of the protocol: in its language, and in whichever direction they run.
function said(tag, text, props = {}) {
  return el(tag, { lang: protocol.language, dir: "auto", ...props }, text ?? "");
}

function button(text, act, props = {}) {
  const { kind = "plain", ...rest } = props;
  return el(`button.${kind}`, { type: "button", onclick: act, ...rest }, text);
}

let lastId = 0;

function newId(stem = "x") {
  lastId += 1;
  return `${stem}-${lastId}`;
}

function byId(id) {
  return document.getElementById(id);
}

// A label, its control and what is said of it, tied together for those who hear the page.
function field(label, control, hint = null) {
  const id = control.id || newId("field");
  control.id = id;
  const parts = [el("label", { for: id }, label), control];
  if (hint) {
    const about = el("p.hint", { id: newId("hint") }, hint);
    control.setAttribute("aria-describedby", about.id);
    parts.push(about);
  }
  return el("div.field", {}, parts);
}

function announce(text) {
  const notices = byId("notices");
  notices.querySelector(".said")?.remove();
  notices.append(el("p.said", {}, text));
}
