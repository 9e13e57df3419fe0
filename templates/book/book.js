"use strict";
// The drawing answers: pan and zoom, find a tag, numbers of what is clicked, its path to the source, other states.
(() => {
  const at = (id) => document.getElementById(id);
  const view = at("view");
  if (!view) return;
  const data = JSON.parse(at("design").textContent);
  const papers = [...view.querySelectorAll(".paper")];
  const sheets = papers.map((paper) => paper.querySelector("svg"));
  const homes = sheets.map((svg) => svg.getAttribute("viewBox").split(" ").map(Number));
  let shown = 0;
  let chosen = null;
  let state = data.states[0];

  // --- whose line is this ------------------------------------------------------------------------------------------
  const feeder = (id) => (id in data.feeders ? `feeder:${id}` : null);
  const thing = (id) => (id in data.things ? id : null);
  const less = (id) => id.slice(0, Math.max(0, id.lastIndexOf(".")));

  function keyOf(id, kind) {
    if (kind === "feeder" || kind === "device") return feeder(less(id)) ?? thing(less(id));
    if (kind === "link") return feeder(id);
    if (kind === "flag") return feeder(id.split("|")[0]) ?? thing(id.split("|")[0]);
    if (kind === "column") {
      for (let dot = id.indexOf("."); dot >= 0; dot = id.indexOf(".", dot + 1)) {
        const found = feeder(id.slice(dot + 1)) ?? thing(id.slice(dot + 1));
        if (found) return found;
      }
      return null;
    }
    if (kind === "piece") return feeder(id) ?? thing(id); // a feeder that comes in from another sheet
    if (["frame", "legend", "below"].includes(kind)) return null;
    return thing(id) ?? thing(less(id));
  }

  function ownerOf(node) {
    for (let group = node.closest("[data-id]"); group; group = group.parentElement.closest("[data-id]")) {
      const key = keyOf(group.dataset.id, group.dataset.kind);
      if (key) return key;
    }
    return null;
  }

  const parts = new Map(); // key -> [{ sheet, node }]
  sheets.forEach((svg, sheet) => {
    for (const node of svg.querySelectorAll("path, circle, text")) {
      const key = ownerOf(node);
      if (!key) continue;
      node.classList.add("can");
      if (!parts.has(key)) parts.set(key, []);
      parts.get(key).push({ sheet, node });
    }
  });

  // --- pan and zoom ------------------------------------------------------------------------------------------------
  const boxOf = (svg) => svg.getAttribute("viewBox").split(" ").map(Number);
  const setBox = (svg, box) => svg.setAttribute("viewBox", box.map((part) => +part.toFixed(4)).join(" "));

  function show(sheet) {
    shown = sheet;
    papers.forEach((paper, index) => paper.classList.toggle("shown", index === sheet));
    at("sheet").value = String(sheet);
  }

  function zoom(factor, x, y) {
    const svg = sheets[shown];
    const [left, top, width, height] = boxOf(svg);
    const home = homes[shown];
    const scale = Math.min(Math.max(factor, home[2] / 60 / width), (home[2] * 1.5) / width);
    const [px, py] = x === undefined ? [left + width / 2, top + height / 2] : [x, y];
    setBox(svg, [px - (px - left) * scale, py - (py - top) * scale, width * scale, height * scale]);
  }

  function move(dx, dy) {
    const svg = sheets[shown];
    const [left, top, width, height] = boxOf(svg);
    setBox(svg, [left + dx, top + dy, width, height]);
  }

  function pointOf(event) {
    const svg = sheets[shown];
    return new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
  }

  view.addEventListener("wheel", (event) => {
    event.preventDefault();
    const point = pointOf(event);
    zoom(Math.exp(Math.sign(event.deltaY) * 0.18), point.x, point.y);
  }, { passive: false });

  let held = null;
  view.addEventListener("pointerdown", (event) => {
    if (event.button === 0) held = { from: pointOf(event), x: event.clientX, y: event.clientY, moved: false };
  });
  addEventListener("pointermove", (event) => {
    if (!held) return;
    if (Math.hypot(event.clientX - held.x, event.clientY - held.y) > 4) held.moved = true;
    if (!held.moved) return;
    const now = pointOf(event);
    move(held.from.x - now.x, held.from.y - now.y);
  });
  addEventListener("pointerup", (event) => {
    const was = held;
    held = null;
    if (!was || was.moved || !view.contains(event.target)) return;
    const node = event.target.closest("svg .can") ?? nearest(event);
    if (node) choose(ownerOf(node), false);
  });

  // A thin line is hard to hit: the nearest one within a few pixels is meant.
  function nearest(event) {
    for (const [dx, dy] of [[0, 4], [0, -4], [4, 0], [-4, 0], [7, 7], [-7, -7], [7, -7], [-7, 7]]) {
      const found = document.elementFromPoint(event.clientX + dx, event.clientY + dy)?.closest("svg .can");
      if (found) return found;
    }
    return null;
  }

  view.addEventListener("keydown", (event) => {
    const [, , width, height] = boxOf(sheets[shown]);
    const keys = {
      ArrowLeft: () => move(-width / 12, 0), ArrowRight: () => move(width / 12, 0),
      ArrowUp: () => move(0, -height / 12), ArrowDown: () => move(0, height / 12),
      "+": () => zoom(0.8), "=": () => zoom(0.8), "-": () => zoom(1.25), 0: whole, Escape: () => choose(null),
    };
    if (!keys[event.key] || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    keys[event.key]();
  });

  function whole() {
    setBox(sheets[shown], homes[shown]);
  }

  // --- choosing ----------------------------------------------------------------------------------------------------
  function extent(key, sheet) {
    const svg = sheets[sheet];
    const back = svg.getScreenCTM().inverse();
    let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
    for (const part of parts.get(key) ?? []) {
      if (part.sheet !== sheet) continue;
      const box = part.node.getBoundingClientRect();
      const from = new DOMPoint(box.left, box.top).matrixTransform(back);
      const to = new DOMPoint(box.right, box.bottom).matrixTransform(back);
      [x0, y0, x1, y1] = [Math.min(x0, from.x), Math.min(y0, from.y), Math.max(x1, to.x), Math.max(y1, to.y)];
    }
    return x1 < x0 ? null : [x0, y0, x1 - x0, y1 - y0];
  }

  function sheetOf(key) {
    const counts = new Map();
    for (const { sheet } of parts.get(key) ?? []) counts.set(sheet, (counts.get(sheet) ?? 0) + 1);
    if (counts.has(shown) && counts.get(shown) * 3 > Math.max(...counts.values())) return shown;
    return [...counts].sort((one, other) => other[1] - one[1])[0]?.[0];
  }

  function choose(key, center = true) {
    document.querySelectorAll("svg .halo").forEach((halo) => halo.remove());
    chosen = key;
    if (!key) {
      at("panel").replaceChildren();
      trace(false);
      return say("Nothing is selected.");
    }
    const sheet = sheetOf(key);
    if (sheet !== undefined) {
      if (center) show(sheet);
      const box = extent(key, sheet);
      if (box && center) {
        const [width, height] = homes[sheet].slice(2);
        const size = Math.max(box[2] * 2.2, (box[3] * 2.2 * width) / height, width / 5);
        setBox(sheets[sheet], [
          box[0] + box[2] / 2 - size / 2, box[1] + box[3] / 2 - (size * height) / width / 2, size, (size * height) / width,
        ]);
      }
      const own = extent(key, sheet);
      if (own) halo(sheets[sheet], own);
    }
    fill(key);
    if (at("trace").getAttribute("aria-pressed") === "true") trace(true);
    say(`${textOf(key)}${sheet === undefined ? " (not on the drawing)" : ""}`);
  }

  function halo(svg, [x, y, width, height]) {
    const rect = document.createElementNS("http://www.w3.org/2000/svg", "rect");
    const pad = 0.08;
    Object.entries({ class: "halo", x: x - pad, y: y - pad, width: width + 2 * pad, height: height + 2 * pad, "stroke-width": 0.02 })
      .forEach(([name, value]) => rect.setAttribute(name, value));
    svg.append(rect);
  }

  // --- the panel ---------------------------------------------------------------------------------------------------
  const say = (text) => { at("said").textContent = text; };
  const recordOf = (key) => (key.startsWith("feeder:") ? data.feeders[key.slice(7)] : data.things[key]);
  const textOf = (key) => recordOf(key).text;

  function make(name, text, attributes = {}) {
    const node = document.createElement(name);
    if (text !== undefined) node.textContent = text;
    Object.entries(attributes).forEach(([key, value]) => node.setAttribute(key, value));
    return node;
  }

  function link(key, text) {
    const button = make("button", text, { type: "button", class: "how" });
    button.addEventListener("click", () => choose(key));
    return button;
  }

  function rows(pairs) {
    const table = make("table");
    for (const cells of pairs) {
      const row = table.insertRow();
      for (const cell of cells) row.insertCell().append(cell);
    }
    return table;
  }

  function values(list) {
    return rows(list.map(([subject, value, title]) => {
      const button = make("button", title, { type: "button", class: "how", "aria-expanded": "false" });
      button.addEventListener("click", () => explain(button, subject));
      return [button, value];
    }));
  }

  // The calculation stands further down in the page; a copy of it opens under its value.
  function explain(button, subject) {
    const row = button.closest("tr");
    if (row.nextElementSibling?.classList.contains("how-row")) {
      row.nextElementSibling.remove();
      return button.setAttribute("aria-expanded", "false");
    }
    const name = at(`c-${subject}`) ? subject : data.elsewhere[subject];
    const source = name && at(`c-${name}`);
    const below = row.parentElement.insertRow(row.rowIndex + 1);
    below.className = "how-row";
    const cell = below.insertCell();
    cell.colSpan = 2;
    if (!source) cell.append("No calculation is known.");
    else if (name !== subject) cell.append(make("p", `The same calculation as ${name}:`));
    if (source?.tagName === "ARTICLE") cell.append(plainCopy(source));
    else if (source) cell.append(tabular(source));
    if (source) cell.append(make("a", "In the calculation book", { href: `#${source.id}` }));
    button.setAttribute("aria-expanded", "true");
  }

  function plainCopy(source) {
    const copy = source.cloneNode(true);
    copy.removeAttribute("id");
    copy.querySelectorAll("[id]").forEach((node) => node.removeAttribute("id"));
    // Clauses stand at the right of a wide page; in the narrow panel they follow their line.
    copy.querySelectorAll("pre").forEach((node) => { node.textContent = node.textContent.replace(/\s{3,}\[/g, "  ["); });
    return copy;
  }

  function tabular(row) {
    const article = row.closest("article");
    const copy = make("div", undefined, { class: "calc" });
    if (!article) {
      const heads = [...row.closest("table").tHead.rows[0].cells].map((cell) => cell.textContent);
      copy.append(rows([...row.cells].map((cell, index) => [heads[index], cell.textContent])));
      return copy;
    }
    for (const node of article.querySelectorAll("h5, p, pre")) copy.append(node.cloneNode(true));
    const heads = [...article.querySelector("thead tr").cells].map((cell) => cell.innerText.replace("\n", ", "));
    copy.append(rows([...row.cells].map((cell, index) => [heads[index], cell.textContent])));
    return copy;
  }

  function fill(key) {
    const record = recordOf(key);
    const tag = key.startsWith("feeder:") ? record.to : record.in ?? key;
    const panel = at("panel");
    panel.replaceChildren(make("h3", record.text));
    const now = record.states?.[state.name];
    if (now) panel.append(make("p", `State: ${state.name}`), rows(now));
    if (state.dead.includes(tag)) panel.append(make("p", `Without supply in the state ${state.name}.`));
    if (record.values?.length) panel.append(make("h4", "Values; click one for its calculation"), values(record.values));
    const feeders = Object.entries(data.feeders);
    const near = key.startsWith("feeder:") ? [[record.from, record.from], [record.to, record.to]]
      : feeders.filter(([, each]) => each.to === key || each.from === key).map(([id, each]) => [`feeder:${id}`, each.text]);
    if (near.length) {
      const list = make("ul");
      for (const [other, text] of near) if (recordOf(other)) list.appendChild(make("li")).append(link(other, text));
      panel.append(make("h4", "Connected"), list);
    }
    if (record.findings?.length) {
      panel.append(make("h4", "Findings"), rows(record.findings.map(([severity, text]) => [severity, text])));
    }
    const places = make("p");
    for (const [id, text] of [[`schedule-${tag}`, "Schedule"], [`calculations-${tag}`, "Calculations"]]) {
      if (at(id)) places.append(make("a", text, { href: `#${id}` }), " ");
    }
    panel.append(places);
  }

  // --- path to the source, states ----------------------------------------------------------------------------------
  function pathOf(key) {
    const record = recordOf(key);
    const found = new Set([key]);
    const waiting = [];
    if (key.startsWith("feeder:")) waiting.push(record.from);
    else waiting.push(record.in ?? key);
    while (waiting.length) {
      const tag = waiting.pop();
      if (found.has(tag) && tag !== key) continue;
      found.add(tag);
      for (const [edge, parent] of state.up[tag] ?? []) {
        found.add(`feeder:${edge}`);
        waiting.push(parent);
      }
    }
    return found;
  }

  function trace(on) {
    at("trace").setAttribute("aria-pressed", String(on));
    document.querySelectorAll("svg .traced").forEach((node) => node.classList.remove("traced"));
    sheets.forEach((svg) => svg.classList.toggle("tracing", on && chosen !== null));
    if (!on || !chosen) return;
    const path = pathOf(chosen);
    for (const key of path) for (const { node } of parts.get(key) ?? []) node.classList.add("traced");
    const way = [...path].filter((key) => key in data.things);
    const name = chosen.replace("feeder:", "the feeder ");
    say(way.length > 1 ? `Path of ${name} in the state ${state.name}: ${way.join(" from ")}` : `${name} has no supply in the state ${state.name}.`);
  }

  function setState(index) {
    state = data.states[index];
    const dead = new Set([...state.dead, ...state.lost]);
    const carrying = new Set(Object.values(state.up).flatMap((pairs) => pairs.map(([edge]) => edge)));
    for (const [key, list] of parts) {
      const record = recordOf(key);
      const idle = key.startsWith("feeder:") ? !carrying.has(key.slice(7)) : dead.has(record.in ?? key);
      for (const { node } of list) node.classList.toggle("idle", idle);
    }
    if (chosen) fill(chosen);
    say(`State ${state.name}${state.words ? `: ${state.words}` : ""}`);
    if (chosen && at("trace").getAttribute("aria-pressed") === "true") trace(true);
  }

  // --- the tools ---------------------------------------------------------------------------------------------------
  const names = [...Object.keys(data.things), ...Object.keys(data.feeders).filter((id) => !(id in data.things))];
  function find(text) {
    const wanted = text.trim().toLowerCase();
    if (!wanted) return;
    const score = (name) => {
      const own = name.toLowerCase();
      return own === wanted ? 0 : own.startsWith(wanted) ? 1 : own.includes(wanted) ? 2 : 9;
    };
    const [best] = names.map((name) => [score(name), name.length, name]).sort((a, b) => a[0] - b[0] || a[1] - b[1]);
    if (!best || best[0] === 9) return say(`Nothing is called ${text}.`);
    choose(thing(best[2]) ?? feeder(best[2]));
  }

  at("find").addEventListener("change", (event) => find(event.target.value));
  at("sheet").addEventListener("change", (event) => show(Number(event.target.value)));
  at("state").addEventListener("change", (event) => setState(Number(event.target.value)));
  at("closer").addEventListener("click", () => zoom(0.7));
  at("farther").addEventListener("click", () => zoom(1 / 0.7));
  at("whole").addEventListener("click", whole);
  at("trace").addEventListener("click", () => {
    if (!chosen) return say("Select a thing first.");
    trace(at("trace").getAttribute("aria-pressed") !== "true");
  });

  document.addEventListener("click", (event) => {
    const anchor = event.target.closest("a[href^='#']");
    if (!anchor) return;
    const target = at(decodeURIComponent(anchor.hash.slice(1)));
    for (let box = target?.closest("details"); box; box = box.parentElement.closest("details")) box.open = true;
    if (anchor.dataset.show) {
      const subject = anchor.dataset.show;
      choose(thing(subject) ?? feeder(subject) ?? thing(less(subject)) ?? thing(subject.split(".")[0]));
    }
  });

  let before = [];
  addEventListener("beforeprint", () => {
    before = sheets.map(boxOf);
    sheets.forEach((svg, index) => setBox(svg, homes[index]));
  });
  addEventListener("afterprint", () => sheets.forEach((svg, index) => setBox(svg, before[index] ?? homes[index])));

  document.documentElement.classList.add("scripted");
  show(0);
  setState(0);
  say("Drag to move, turn the wheel to zoom, click a thing for its numbers.");
})();
