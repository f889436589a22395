(function () {
  "use strict";
  var data = JSON.parse(document.getElementById("data").textContent);
  var page = 50, shown = page, sorted = { column: "order", down: false };
  var at = { layout: 0, beside: data.layouts.length > 1 ? 1 : -1, seat: -1 };
  var home = [], nodes = [], worn = [];
  var marks = ["", "M-12 0H12", "M-12 12L12 -12", "M-12 -12L12 12M-12 12L12 -12"];
  var get = function (id) { return document.getElementById(id); };
  var classes = ["clear", "good", "fair", "poor"], verdicts = ["within", "too near to tell", "over"];

  function make(name, attributes, text) {
    var element = document.createElement(name);
    for (var key in attributes) element.setAttribute(key, attributes[key]);
    if (text !== undefined) element.textContent = text;
    return element;
  }

  function show(value, figure) {
    if (value === null || value === undefined) return "\u2013";
    return typeof value === "number" ? value.toFixed(figure.decimals) + (figure.unit ? " " + figure.unit : "") : value;
  }

  /* 0 to 3 by the limits in force; -1 without a figure or a limit. */
  function classOf(layout, figure, seat) {
    if (figure.classes) {
      var given = layout[figure.classes][seat];
      return given === null ? -1 : (figure.classes === "verdict" ? [0, 1, 3][given] : given);
    }
    var limit = layout.limits[figure.key], value = layout[figure.key][seat];
    if (!limit || value === null) return -1;
    for (var k = 0; k < 3; k++)
      if (limit[k] === null || (figure.least ? value >= limit[k] - 1e-9 : value <= limit[k] + 1e-9)) return k;
    return 3;
  }

  function figureNow() { return data.figures[get("figure").selectedIndex]; }

  function legendText(layout, figure, k) {
    if (k < 0) return "no figure or no limit";
    if (figure.classes === "verdict") return verdicts[[0, 1, 1, 2][k]];
    var limit = layout.limits[figure.key];
    if (!limit || k === 3) return classes[k];
    return classes[k] + (limit[k] === null ? "" : (figure.least ? " \u2265 " : " \u2264 ") + show(limit[k], figure));
  }

  function key(k) {
    var box = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    box.setAttribute("viewBox", "-26 -26 52 52");
    box.setAttribute("aria-hidden", "true");
    box.setAttribute("class", "key" + (k >= 0 ? " k" + k : ""));
    box.innerHTML = '<rect x="-22" y="-22" width="44" height="44"/><path d="' + (k > 0 ? marks[k] : "") + '"/>';
    return box;
  }

  /* Only what changes: a browser lays every seat out anew whose attributes are set. */
  function dress(l, i, style, mark) {
    if (worn[l][i] === style + mark) return;
    nodes[l][i].setAttribute("class", style);
    nodes[l][i].lastElementChild.setAttribute("d", mark);
    worn[l][i] = style + mark;
  }

  function paint(l) {
    var layout = data.layouts[l], figure = figureNow(), count = {}, level = get("level").value;
    for (var i = 0; i < nodes[l].length; i++) {
      var k = classOf(layout, figure, i), gone = level !== "" && layout.level[i] !== level;
      dress(l, i, "seat" + (k >= 0 ? " k" + k : "") + (gone ? " gone" : "") +
        (layout.seat[i] === picked() ? " picked" : ""), k > 0 ? marks[k] : "");
      if (!gone) count[k] = (count[k] || 0) + 1;
    }
    var shown = nodes[l][home[l]].classList.contains("gone") ? layout.level.indexOf(level) : home[l];
    setHome(l, shown < 0 ? home[l] : shown);
    var legend = get("plan-" + l).querySelector(".legend");
    legend.textContent = "";
    [0, 1, 2, 3, -1].forEach(function (k) {
      if (!count[k]) return;
      var item = make("li", {});
      item.appendChild(key(k));
      item.appendChild(document.createTextNode(legendText(layout, figure, k) + ": " + count[k]));
      legend.appendChild(item);
    });
  }

  function paintAll() {
    data.layouts.forEach(function (layout, l) {
      var isShown = l === at.layout || l === at.beside;
      get("plan-" + l).hidden = !isShown;
      if (isShown) paint(l);
      get("plan-" + l).querySelector(".shown").textContent = figureNow().label;
    });
  }

  function picked() { return at.seat < 0 ? null : data.layouts[at.layout].seat[at.seat]; }

  function shownLayouts() {
    return at.beside >= 0 && at.beside !== at.layout ? [at.layout, at.beside] : [at.layout];
  }

  function detail() {
    var box = get("detail"), name = picked();
    box.textContent = "";
    if (name === null) {
      box.appendChild(make("p", {}, "Pick a seat on a plan or in the list."));
      return;
    }
    box.appendChild(make("h3", {}, "Seat " + name));
    var columns = shownLayouts().map(function (l) {
      return { layout: data.layouts[l], seat: l === at.layout ? at.seat : data.layouts[l].seat.indexOf(name) };
    }).filter(function (c) {
      if (c.seat < 0) box.appendChild(make("p", {}, c.layout.name + " has no seat of this name."));
      return c.seat >= 0;
    });
    var wide = make("div", { class: "wide" }), table = make("table", {}), head = make("tr", {});
    head.appendChild(make("td", {}, ""));
    columns.forEach(function (c) { head.appendChild(make("th", { scope: "col" }, c.layout.name)); });
    table.appendChild(head);
    data.details.forEach(function (figure) {
      var row = make("tr", {}), any = false;
      row.appendChild(make("th", { scope: "row" }, figure.label));
      columns.forEach(function (c) {
        var value = c.layout[figure.key][c.seat];
        any = any || (value !== null && value !== undefined);
        row.appendChild(make("td", {}, show(named(figure, value), figure)));
      });
      if (any) table.appendChild(row);
    });
    wide.appendChild(table);
    box.appendChild(wide);
    columns.forEach(function (c) {
      var view = get("view-" + data.layouts.indexOf(c.layout) + "-" + c.seat);
      if (view) box.appendChild(make("img", { src: view.src, alt: c.layout.name + ". " + view.alt }));
    });
  }

  function named(figure, value) {
    if (value === null || value === undefined) return value;
    if (figure.key === "rating" || figure.key === "c_class") return classes[value];
    return figure.key === "verdict" ? verdicts[value] : value;
  }

  function seatNode(l, i) { return nodes[l][i]; }

  /* The one seat of a plan that the Tab key reaches. */
  function setHome(l, i) {
    seatNode(l, home[l]).setAttribute("tabindex", "-1");
    home[l] = i;
    seatNode(l, i).setAttribute("tabindex", "0");
  }

  function pick(l, i, focus) {
    if (l !== at.layout && l === at.beside) at.beside = at.layout;
    at.layout = l;
    at.seat = i;
    get("layout").value = l;
    if (data.layouts.length > 1) get("beside").value = at.beside;
    setHome(l, i);
    paintAll();
    detail();
    if (focus) seatNode(l, i).focus();
  }

  /* The nearest seat that lies within 45 degrees of the arrow's way. */
  function next(l, i, way) {
    var layout = data.layouts[l], level = get("level").value, best = -1, least = Infinity;
    for (var k = 0; k < layout.seat.length; k++) {
      var x = layout.x[k] - layout.x[i], y = layout.y[k] - layout.y[i];
      var along = x * way[0] + y * way[1], across = Math.abs(x * way[1] - y * way[0]);
      if (k === i || along <= 0 || across > along || (level !== "" && layout.level[k] !== level)) continue;
      if (along + 2 * across < least) { least = along + 2 * across; best = k; }
    }
    return best;
  }

  /* One listener for all seats of a plan: there may be 20,000. */
  function bindPlan(l) {
    var plan = get("plan-" + l), order = new Map();
    nodes[l] = Array.prototype.slice.call(plan.querySelectorAll(".seat"));
    worn[l] = [];
    nodes[l].forEach(function (node, i) { order.set(node, i); });
    function seatOf(event) { return order.get(event.target.closest && event.target.closest(".seat")); }
    plan.addEventListener("click", function (event) {
      var i = seatOf(event);
      if (i !== undefined) pick(l, i, true);
    });
    plan.addEventListener("keydown", function (event) {
      var i = seatOf(event);
      var way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
      if (i === undefined) return;
      if (event.key === "Enter" || event.key === " ") { event.preventDefault(); pick(l, i, true); }
      if (!way) return;
      event.preventDefault();
      var k = next(l, i, way);
      if (k >= 0) pick(l, k, true);
    });
  }

  function rows() {
    var layout = data.layouts[at.layout], text = get("filter").value.toLowerCase(), want = get("only").value;
    var list = [];
    for (var i = 0; i < layout.seat.length; i++) {
      if (want !== "" && String(layout.rating[i]) !== want) continue;
      var line = (layout.seat[i] + " " + layout.level[i] + " " + layout.kind[i] + " " + (layout.worst[i] || "")).toLowerCase();
      if (line.indexOf(text) >= 0) list.push(i);
    }
    var values = layout[sorted.column], sign = sorted.down ? -1 : 1;
    if (values) list.sort(function (p, q) {
      var a = values[p], b = values[q];
      if (a === b) return p - q;
      if (a === null || b === null) return a === null ? 1 : -1;
      return a < b ? -sign : sign;
    });
    return list;
  }

  function fillTable() {
    var layout = data.layouts[at.layout], list = rows(), body = get("rows");
    body.textContent = "";
    list.slice(0, shown).forEach(function (i) {
      var row = make("tr", {}), cell = make("th", { scope: "row" });
      var link = make("a", { href: "#detail" }, layout.seat[i]);
      link.addEventListener("click", function () { pick(at.layout, i, false); });
      cell.appendChild(link);
      row.appendChild(cell);
      data.columns.forEach(function (figure) {
        var value = named(figure, layout[figure.key][i]);
        row.appendChild(make("td", figure.unit !== "" ? { class: "n" } : {},
          value === null || value === undefined ? "\u2013" : typeof value === "number" ? value.toFixed(figure.decimals) : value));
      });
      body.appendChild(row);
    });
    get("count").textContent = list.length + " of " + layout.seat.length + " seats of " + layout.name +
      (list.length > shown ? ", the first " + shown + " listed" : "");
    get("more").hidden = list.length <= shown;
  }

  function sortBy(column, node) {
    sorted = { column: column, down: sorted.column === column && !sorted.down };
    Array.prototype.forEach.call(document.querySelectorAll("#seats thead th"), function (th) { th.removeAttribute("aria-sort"); });
    node.setAttribute("aria-sort", sorted.down ? "descending" : "ascending");
    fillTable();
  }

  function fillLevels() {
    var select = get("level"), names = [];
    data.layouts.forEach(function (layout) {
      layout.level.forEach(function (name) { if (names.indexOf(name) < 0) names.push(name); });
    });
    names.forEach(function (name) { select.appendChild(make("option", { value: name }, name)); });
    select.parentNode.hidden = names.length < 2;
    if (data.layouts.some(function (layout) { return layout.sheets > 1; })) select.value = names[0];
  }

  function start() {
    data.figures.forEach(function (figure) { get("figure").appendChild(make("option", {}, figure.label)); });
    fillLevels();
    data.layouts.forEach(function (layout, l) {
      get("layout").appendChild(make("option", { value: l }, layout.name));
      get("beside").appendChild(make("option", { value: l }, layout.name));
      bindPlan(l);
      home.push(0);
    });
    get("beside").value = at.beside;
    get("layout").parentNode.hidden = get("beside").parentNode.hidden = data.layouts.length < 2;
    get("layout").addEventListener("change", function () {
      at.layout = Number(this.value); at.seat = -1; shown = page; paintAll(); detail(); fillTable();
    });
    get("beside").addEventListener("change", function () { at.beside = Number(this.value); paintAll(); detail(); });
    get("figure").addEventListener("change", paintAll);
    get("level").addEventListener("change", paintAll);
    get("filter").addEventListener("input", function () { shown = page; fillTable(); });
    get("only").addEventListener("change", function () { shown = page; fillTable(); });
    get("more").addEventListener("click", function () { shown += page; fillTable(); });
    Array.prototype.forEach.call(document.querySelectorAll("#seats thead th"), function (th) {
      th.querySelector("button").addEventListener("click", function () { sortBy(th.getAttribute("data-key"), th); });
    });
    Array.prototype.forEach.call(document.querySelectorAll("button.pick"), function (button) {
      button.addEventListener("click", function () {
        get("level").value = "";
        pick(Number(button.getAttribute("data-layout")), Number(button.getAttribute("data-seat")), true);
      });
    });
    Array.prototype.forEach.call(document.querySelectorAll(".needs-script"), function (node) { node.hidden = false; });
    paintAll();
    detail();
    fillTable();
  }
  start();
}());
