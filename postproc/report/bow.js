"use strict";

// The bow in three dimensions: shaded triangles, seen without perspective, the hidden ones hidden by a depth
// buffer. A plain canvas does for the few thousand triangles of a bow, on any machine and without a graphics
// card.

const tints = [
  ["riser", [196, 202, 214]], ["limb", [236, 204, 146]], ["cam", [148, 190, 226]], ["idler", [148, 190, 226]],
  ["axle", [120, 120, 120]], ["string", [60, 60, 60]], ["cable", [160, 92, 48]], ["yoke", [160, 92, 48]],
  ["guide", [150, 200, 140]], ["arrow", [190, 110, 100]],
];

function tintOf(name) {
  const found = tints.find(([word]) => name.startsWith(word));
  return found ? found[1] : [205, 205, 205];
}

/** Middle and half of the diagonal of the box around all pieces [mm]. */
function extentOf({pieces}) {
  const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
  for (const piece of pieces)
    piece.points.forEach((value, i) => {
      low[i % 3] = Math.min(low[i % 3], value);
      high[i % 3] = Math.max(high[i % 3], value);
    });
  return {middle: low.map((value, i) => (value + high[i]) / 2),
          radius: Math.hypot(...low.map((value, i) => (high[i] - value) / 2))};
}

/**
 * Paints a state.
 * @param view {yaw, pitch} of the eye [rad]: yaw 0 looks at the target, a quarter turn to the archer's left;
 *   pitch above 0 looks down. lean: how many times it is enlarged. radius: what shall be seen around `middle`
 *   [mm].
 */
function paintBow(canvas, state, view, middle) {
  const {width, height} = canvas;
  const context = canvas.getContext("2d");
  const image = context.createImageData(width, height);
  const pixels = new Uint32Array(image.data.buffer).fill(0xffffffff);
  const depth = new Float32Array(width * height).fill(Infinity);

  const [sy, cy, sp, cp] = [Math.sin(view.yaw), Math.cos(view.yaw), Math.sin(view.pitch), Math.cos(view.pitch)];
  const right = [sy, -cy, 0], up = [cy * sp, sy * sp, cp], away = [cy * cp, sy * cp, -sp];
  const scale = 0.5 * Math.min(width, height) / view.radius;

  for (const piece of state.pieces) {
    const {points, lean, triangles} = piece, tint = tintOf(piece.name);
    const seen = new Float32Array(points.length);  // x and y [px], depth in the same unit
    for (let i = 0; i < points.length; i += 3) {
      const p = [0, 1, 2].map(k => points[i + k] - middle[k] + (lean.length ? (view.lean - 1) * lean[i + k] : 0));
      const along = axis => scale * (p[0] * axis[0] + p[1] * axis[1] + p[2] * axis[2]);
      seen[i] = width / 2 + along(right);
      seen[i + 1] = height / 2 - along(up);
      seen[i + 2] = along(away);
    }
    for (let t = 0; t < triangles.length; t += 3)
      paintTriangle(seen, 3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2], tint);
  }
  context.putImageData(image, 0, 0);

  function paintTriangle(at, a, b, c, tint) {
    const ux = at[b] - at[a], uy = at[b + 1] - at[a + 1], uz = at[b + 2] - at[a + 2];
    const vx = at[c] - at[a], vy = at[c + 1] - at[a + 1], vz = at[c + 2] - at[a + 2];
    const nx = uy * vz - uz * vy, ny = uz * vx - ux * vz, nz = ux * vy - uy * vx;
    if (nz === 0) return;
    // Light from above and from the left of the eye; both sides of a face are lit alike.
    const shade = 0.62 + 0.38 * Math.abs((-0.4 * nx - 0.5 * ny - 0.77 * nz) / Math.hypot(nx, ny, nz));
    const [red, green, blue] = tint.map(channel => Math.round(channel * shade));
    const colour = (255 << 24 | blue << 16 | green << 8 | red) >>> 0;
    const left = Math.max(0, Math.ceil(Math.min(at[a], at[b], at[c]) - 0.5));
    const last = Math.min(width - 1, Math.floor(Math.max(at[a], at[b], at[c]) - 0.5));
    const top = Math.max(0, Math.ceil(Math.min(at[a + 1], at[b + 1], at[c + 1]) - 0.5));
    const bottom = Math.min(height - 1, Math.floor(Math.max(at[a + 1], at[b + 1], at[c + 1]) - 0.5));
    for (let y = top; y <= bottom; ++y)
      for (let x = left; x <= last; ++x) {
        const px = x + 0.5 - at[a], py = y + 0.5 - at[a + 1];
        const s = (px * vy - py * vx) / nz, r = (py * ux - px * uy) / nz;  // p = s u + r v
        if (s < 0 || r < 0 || s + r > 1) continue;
        const z = at[a + 2] + s * uz + r * vz, i = y * width + x;
        if (z >= depth[i]) continue;
        depth[i] = z;
        pixels[i] = colour;
      }
  }
}
