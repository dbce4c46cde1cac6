"use strict";

const data = JSON.parse(document.getElementById("data").textContent);
const byId = id => document.getElementById(id);
const shown = (value, digits) =>
  value === null ? "–" : value.toFixed(digits).replace(/^-(?=0\.?0*$)/, "").replace("-", "\u2212");
const last = values => values[values.length - 1];

// ---- the bow ----

const quarter = Math.PI / 2;
const views = {corner: [0.6, 0.25], behind: [0, 0], side: [quarter, 0], above: [quarter, 1.55],
               "axle top": [0, 0], "axle bottom": [0, 0]};
const view = {lean: 1};
let middles = [];
const canvases = [...document.querySelectorAll(".bow canvas")];
let waiting = false;

function leanText(state) {
  const at = state === 0 ? values => values[0] : last;
  return data.curves.map((curve, i) => [curve, at(data.layouts[0].curves[i])])
    .filter(([curve]) => curve.id.startsWith("lean_"))
    .map(([curve, value]) => `${curve.id.replace("lean_", "")} ${shown(value, 2)}°`).join(", ");
}

function paintBows() {
  waiting = false;
  const times = view.lean === 1 ? "true size" : `shown ×${view.lean}`;
  canvases.forEach((canvas, i) => {
    const state = data.states[i];
    paintBow(canvas, state, view, middles[i]);
    byId(`bow-caption-${i}`).textContent =
      `${state.name}: ${shown(state.draw, 0)} mm, ${shown(state.force, 0)} N; lean ${leanText(i)} (${times})`;
  });
}

/** Looks at the whole bow, or at the piece of that name from near by. */
function lookFrom(name) {
  [view.yaw, view.pitch] = views[name];
  const parts = data.states.map(state => ({pieces: state.pieces.filter(piece => piece.name === name)}));
  const near = parts.every(part => part.pieces.length > 0);
  const extents = (near ? parts : data.states).map(extentOf);
  middles = extents.map(extent => extent.middle);
  view.radius = Math.max(...extents.map(extent => extent.radius)) * (near ? 1.8 : 0.9);
  repaint();
}

function repaint() {
  if (!waiting) requestAnimationFrame(paintBows);
  waiting = true;
}

function turn(yaw, pitch) {
  view.yaw += yaw;
  view.pitch = Math.max(-1.55, Math.min(1.55, view.pitch + pitch));
  repaint();
}

/** Buttons of which one is pressed. */
function choice(selector, act) {
  const buttons = [...document.querySelectorAll(selector)];
  for (const button of buttons)
    button.addEventListener("click", () => {
      for (const other of buttons) other.setAttribute("aria-pressed", other === button);
      act(button.value);
    });
}

for (const canvas of canvases) {
  canvas.addEventListener("pointerdown", event => canvas.setPointerCapture(event.pointerId));
  canvas.addEventListener("pointermove", event => {
    if (event.buttons & 1) turn(-0.008 * event.movementX, 0.008 * event.movementY);
  });
  canvas.addEventListener("keydown", event => {
    const step = {ArrowLeft: [0.1, 0], ArrowRight: [-0.1, 0], ArrowUp: [0, -0.1], ArrowDown: [0, 0.1]}[event.key];
    if (!step) return;
    event.preventDefault();
    turn(...step);
  });
}
choice("button[name=lean]", value => {
  view.lean = Number(value);
  repaint();
});
choice("button[name=view]", lookFrom);

// ---- the curves ----

// Two colours that colour-blind eyes tell apart (Okabe and Ito), and dashes that tell them apart in grey.
const styles = [{label: "today", colour: "#000000", dash: []}, {label: "chosen", colour: "#d55e00", dash: [8, 4]}];

/** Names written at the ends of the curves, moved apart where they would touch. */
const endLabels = {
  id: "endLabels",
  afterDatasetsDraw(chart) {
    const labels = chart.data.datasets.map((set, i) => ({set, point: last(chart.getDatasetMeta(i).data)}))
      .filter(({point}) => point).map(({set, point}) => ({set, x: point.x + 6, y: point.y}))
      .sort((a, b) => a.y - b.y);
    if (labels.length === 2) {
      const overlap = 14 - (labels[1].y - labels[0].y);
      if (overlap > 0) {
        labels[0].y -= overlap / 2;
        labels[1].y += overlap / 2;
      }
    }
    chart.ctx.font = "12px sans-serif";
    chart.ctx.textBaseline = "middle";
    for (const {set, x, y} of labels) {
      chart.ctx.fillStyle = set.borderColor;
      chart.ctx.fillText(set.label, x, y);
    }
  },
};

function dataset(style, layout, curve) {
  return {label: style.label, order: -styles.indexOf(style), data: layout.draw.map((x, i) => ({x, y: layout.curves[curve][i]})),
          borderColor: style.colour, borderDash: style.dash, borderWidth: 2, pointRadius: 0, pointHitRadius: 8};
}

function makeChart(curve, i) {
  const values = data.layouts[0].curves[i], low = Math.min(...values), high = Math.max(...values);
  const spare = Math.max(0, (curve.least_span - (high - low)) / 2);
  const title = text => ({display: true, text, color: "#222"});
  const ticks = {color: "#222"}, grid = {color: "#e2e2e2"};
  return new Chart(byId(`chart-${i}`), {
    type: "line",
    data: {datasets: [dataset(styles[0], data.layouts[0], i)]},
    plugins: [endLabels],
    options: {
      animation: false, responsive: false, devicePixelRatio: 2, layout: {padding: {right: 52}},
      interaction: {mode: "nearest", axis: "x", intersect: false},
      plugins: {
        legend: {display: false},
        tooltip: {callbacks: {
          title: items => items.length ? `draw ${shown(items[0].parsed.x, 0)} mm` : "",
          label: item => `${item.dataset.label}: ${shown(item.parsed.y, curve.digits)} ${curve.unit}`}},
      },
      scales: {
        x: {type: "linear", title: title("draw, nocking point to pivot point [mm]"), ticks, grid},
        y: {title: title(`${curve.positive} [${curve.unit}]`),
            ticks, grid, suggestedMin: low - spare, suggestedMax: high + spare},
      },
    },
  });
}

const charts = data.curves.map(makeChart);
let chosen = 0;

function rowsOf(layout) {
  const rows = [];
  data.curves.forEach((curve, i) => {
    const values = layout.curves[i] || [null];
    if (curve.id === "draw_force") {
      rows.push(["peak weight", "N", Math.max(...values), 1], ["holding weight", "N", last(values), 1]);
    } else {
      if (curve.id.startsWith("lean_")) rows.push([`${curve.title}, brace`, curve.unit, values[0], curve.digits]);
      rows.push([`${curve.title}, full draw`, curve.unit, last(values), curve.digits]);
    }
  });
  return rows;
}

function compare(layout) {
  const body = byId("compare");
  body.replaceChildren();
  const today = rowsOf(data.layouts[0]), other = rowsOf(layout);
  today.forEach(([name, unit, value, digits], i) => {
    const row = body.insertRow(), cell = document.createElement("th");
    cell.scope = "row";
    cell.textContent = `${name} [${unit}]`;
    row.append(cell);
    const after = layout === data.layouts[0] ? null : other[i][2];
    for (const number of [value, after, after === null ? null : after - value])
      row.insertCell().textContent = shown(number, digits);
  });
}

function choose(index) {
  chosen = index;
  const layout = data.layouts[index];
  const second = index > 0 && !layout.failure;
  charts.forEach((chart, i) => {
    chart.data.datasets = [dataset(styles[0], data.layouts[0], i)];
    if (second) chart.data.datasets.push(dataset(styles[1], layout, i));
    chart.update();
  });
  compare(second ? layout : data.layouts[0]);
  byId("chosen").textContent = index === 0 ? "Today's layout alone; choose another one to compare."
    : layout.failure ? `This layout could not be drawn: ${layout.failure}`
    : `Chosen (dashed): ${layout.change}. Work from today's layout: ${layout.rework}.`;
  byId("layout").value = index;
  for (const input of document.querySelectorAll("input[name=layout]")) {
    input.checked = Number(input.value) === index;
    input.closest("tr").classList.toggle("chosen", input.checked);
  }
}

byId("layout").addEventListener("change", event => choose(Number(event.target.value)));
for (const input of document.querySelectorAll("input[name=layout]"))
  input.addEventListener("change", () => choose(Number(input.value)));

document.documentElement.classList.add("with-script");
choose(0);
lookFrom("corner");
