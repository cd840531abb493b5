// Models in space that are turned with mouse, fingers and keys: everything here is one function, turnable(box).
// The box has the model as JSON in data-solid, and may hold a still picture, which stays where nothing can be
// turned (no WebGL 2), in print, and until the model is touched. Nothing is loaded, stored or sent.
"use strict";
const turnable = (() => {
  const SURFACE = [`#version 300 es
    in vec3 at; in vec3 deeper; uniform mat3 turn; uniform vec3 fit; out vec3 place;
    void main() {
      place = turn * at;
      gl_Position = vec4(place.xy * fit.xy, -(turn * (at + deeper)).z * fit.z, 1.0);
    }`, `#version 300 es
    precision highp float;
    in vec3 place; uniform vec3 front; uniform vec3 back; uniform vec2 shade; out vec4 ink;
    void main() {
      vec3 n = normalize(cross(dFdx(place), dFdy(place)));
      float dark = min(1.0, 1.35 * (1.0 - max(0.0, dot(n * sign(n.z), normalize(vec3(0.2, 0.62, 0.75))))));
      ink = gl_FrontFacing ? vec4(front * (1.0 - shade.x * dark), 1.0) : vec4(back * (1.0 - shade.y * dark), 1.0);
    }`];
  const LINE = [`#version 300 es
    in vec3 at; in vec3 to; in vec3 deeper; in vec2 side; in vec3 here; in vec3 beyond; uniform mat3 turn; uniform vec3 fit; uniform vec3 page;
    void main() {
      vec3 p = turn * at, q = turn * to;
      vec2 way = (q.xy - p.xy) * fit.xy * page.xy;
      float n = length(way);
      way = n > 0.0 ? way / n : vec2(1.0, 0.0);
      vec2 off = (vec2(-way.y, way.x) * side.x - way * side.y) * page.z / page.xy;
      if ((turn * here).z * (turn * beyond).z > 0.0) off = vec2(4.0);
      gl_Position = vec4(p.xy * fit.xy + off, -(turn * (at + deeper)).z * fit.z - 0.12 * fit.z, 1.0);
    }`, `#version 300 es
    precision highp float;
    uniform vec3 front; out vec4 ink;
    void main() { ink = vec4(front, 1.0); }`];

  const colour = (text) => [1, 3, 5].map((k) => parseInt(text.slice(k, k + 2), 16) / 255);
  const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  const plus = (a, b, k) => a.map((v, i) => v + k * b[i]);
  const unit = (a) => a.map((v) => v / Math.hypot(...a));

  function program(gl, [vertex, fragment]) {
    const made = gl.createProgram();
    for (const [kind, text] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]]) {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      gl.attachShader(made, shader);
    }
    gl.linkProgram(made);
    return gl.getProgramParameter(made, gl.LINK_STATUS) ? made : null;
  }

  function fill(gl, made, arrays) {
    const held = gl.createVertexArray();
    gl.bindVertexArray(held);
    for (const [name, size, values] of arrays) {
      const place = gl.getAttribLocation(made, name);
      gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
      gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(values), gl.STATIC_DRAW);
      gl.enableVertexAttribArray(place);
      gl.vertexAttribPointer(place, size, gl.FLOAT, false, 0, 0);
    }
    return held;
  }

  // What draws a model on a canvas: a function of the axes, the canvas's size, the scale (pixels a millimetre)
  // and the weight of lines (pixels).
  function painter(canvas, solid) {
    const gl = canvas.getContext("webgl2", { antialias: true });
    const surface = gl && program(gl, SURFACE), line = gl && program(gl, LINE);
    if (!surface || !line) return null;
    const three = (list, k) => list.slice(3 * k, 3 * k + 3).map((v) => v / 100);
    const corners = [], ends = [];
    for (let k = 0; k < solid.triangles.length; k += 4) {
      const [piece, ...triple] = solid.triangles.slice(k, k + 4);
      for (const corner of triple) corners.push([three(solid.points, corner), three(solid.deeper, piece)]);
    }
    const normals = [];
    for (let k = 0; k < solid.triangles.length; k += 4) {
      const [piece, ...triple] = solid.triangles.slice(k, k + 4);
      const [a, b, c] = triple.map((corner) => three(solid.points, corner));
      normals[piece] = plus(normals[piece] || [0, 0, 0], cross(plus(b, a, -1), plus(c, a, -1)), 1);
    }
    for (let k = 0; k < solid.lines.length; k += 5) {
      const [piece, beyond, start, end, always] = solid.lines.slice(k, k + 5);
      const a = three(solid.points, start), b = three(solid.points, end), n = normals[piece];
      const rest = [n, always ? n.map((v) => -v) : normals[beyond]], deeper = three(solid.deeper, piece);
      const near = [a, b, deeper, [1, 1], ...rest], far = [b, a, deeper, [1, 1], ...rest];
      ends.push(near, [a, b, deeper, [-1, 1], ...rest], far, far, [b, a, deeper, [-1, 1], ...rest], near);
    }
    const all = (rows, k) => rows.flatMap((row) => row[k]);
    const areas = fill(gl, surface, [["at", 3, all(corners, 0)], ["deeper", 3, all(corners, 1)]]);
    const strokes = fill(gl, line, [["at", 3, all(ends, 0)], ["to", 3, all(ends, 1)], ["deeper", 3, all(ends, 2)],
      ["side", 2, all(ends, 3)], ["here", 3, all(ends, 4)], ["beyond", 3, all(ends, 5)]]);
    const send = (made, name, values) => gl[`uniform${values.length}fv`](gl.getUniformLocation(made, name), values);
    return (axes, wide, high, scale, heavy) => {
      const ratio = window.devicePixelRatio || 1;
      canvas.width = Math.max(1, Math.round(wide * ratio));
      canvas.height = Math.max(1, Math.round(high * ratio));
      gl.viewport(0, 0, canvas.width, canvas.height);
      gl.clearColor(0, 0, 0, 0);
      gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
      gl.enable(gl.DEPTH_TEST);
      gl.depthFunc(gl.LEQUAL);
      const turn = new Float32Array([0, 1, 2].flatMap((k) => axes.map((axis) => axis[k])));
      const fit = [2 * scale / wide, 2 * scale / high, 0.9 / solid.reach];
      const parts = [
        [surface, areas, corners.length, colour(solid.front)],
        [line, strokes, ends.length, colour(solid.ink)],
      ];
      for (const [made, held, count, front] of parts) {
        gl.useProgram(made);
        gl.bindVertexArray(held);
        gl.uniformMatrix3fv(gl.getUniformLocation(made, "turn"), false, turn);
        send(made, "fit", fit);
        send(made, "front", front);
        if (made === surface) {
          send(made, "back", colour(solid.back));
          send(made, "shade", solid.shades);
          gl.enable(gl.POLYGON_OFFSET_FILL);
          gl.polygonOffset(0.5 + 0.5 * heavy * ratio, 1);
        } else {
          gl.disable(gl.POLYGON_OFFSET_FILL);
          send(made, "page", [wide / 2, high / 2, heavy / 2]);
        }
        gl.drawArrays(gl.TRIANGLES, 0, count);
      }
    };
  }

  return (box) => {
    const solid = JSON.parse(box.dataset.solid);
    const still = box.querySelector("svg");
    const canvas = document.createElement("canvas");
    const paint = painter(canvas, solid);
    if (paint === null) return false;
    let yaw = 0, pitch = 0, held = null;
    const [, , first] = solid.axes;
    const up = solid.up;
    const start = Math.asin(Math.max(-1, Math.min(1, dot(first, up))));
    const level = unit(plus(first, up, -dot(first, up)));

    function axes() {
      const away = cross(up, level);
      const front = plus(level.map((v) => v * Math.cos(yaw)), away, Math.sin(yaw));
      const rise = start + pitch;
      const toward = plus(front.map((v) => v * Math.cos(rise)), up, Math.sin(rise));
      const right = unit(cross(up, front));
      return [right, cross(toward, right), toward];
    }

    function show() {
      const { width, height } = canvas.getBoundingClientRect();
      if (width < 1 || height < 1) return;
      let scale = 0.46 * Math.min(width, height) / solid.reach;
      let heavy = 2;
      if (still !== null) {
        const drawn = (still.querySelector("g") || still).getBoundingClientRect();
        if (drawn.width > 0) scale = Math.min(scale, drawn.width / solid.wide);
        heavy = Math.max(1, solid.width * (still.getScreenCTM()?.a || 1));
      }
      paint(axes(), width, height, scale, heavy);
    }

    function move(across, along) {
      yaw -= across;
      pitch = Math.max(-1.5 - start, Math.min(1.5 - start, pitch + along));
      box.classList.add("turned");
      show();
    }

    canvas.setAttribute("aria-hidden", "true");
    box.append(canvas);
    box.tabIndex = 0;
    box.classList.add("turnable");
    box.addEventListener("pointerdown", (event) => {
      held = [event.clientX, event.clientY];
      box.setPointerCapture(event.pointerId);
    });
    box.addEventListener("pointermove", (event) => {
      if (held === null) return;
      move((event.clientX - held[0]) / 120, (event.clientY - held[1]) / 120);
      held = [event.clientX, event.clientY];
    });
    for (const end of ["pointerup", "pointercancel"]) box.addEventListener(end, () => { held = null; });
    for (const touch of ["touchstart", "touchend"]) {
      box.addEventListener(touch, (event) => event.stopPropagation(), { passive: true });
    }
    const keys = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    box.addEventListener("keydown", (event) => {
      if (event.ctrlKey || event.altKey || event.metaKey || event.target !== box) return;
      if (event.key in keys) {
        move(...keys[event.key].map((v) => v * Math.PI / 12));
      } else if (event.key === "Home") {
        yaw = pitch = 0;
        box.classList.remove("turned");
        show();
      } else {
        return;
      }
      event.preventDefault();
      event.stopPropagation();
    });
    new ResizeObserver(show).observe(box);
    show();
    return true;
  };
})();
