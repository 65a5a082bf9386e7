/** The cloth in three dimensions: eight pieces, each one drawing call, its loops as fine as can be seen. */

import {
  BufferAttribute,
  BufferGeometry,
  Color,
  DirectionalLight,
  DoubleSide,
  Frustum,
  HemisphereLight,
  InstancedMesh,
  Matrix4,
  MeshLambertMaterial,
  PerspectiveCamera,
  Quaternion,
  Scene,
  Sphere,
  Vector3,
  WebGLRenderer,
} from "three";
import type { Cloth } from "./decode.ts";
import { aspectOf, frame, guessedView, picked } from "./frames.ts";
import { levelsOf, MOST_TRIANGLES, PIECES, type Piece } from "./levels.ts";
import { LEVELS, tube } from "./loop.ts";

const FIELD_OF_VIEW = 24;
const WALE = new Vector3();
const A_MOMENT_MS = 40;
const A_BREATH_MS = 900;
const STILL_AFTER_MS = 220;
const LEAST_TRIANGLES = 60_000;

export class ClothView {
  readonly canvas: HTMLCanvasElement;
  readonly measured = { calls: 0, triangles: 0 };
  private readonly renderer: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly camera = new PerspectiveCamera(FIELD_OF_VIEW, 1, 1, 10_000);
  private readonly material = yarn();
  private pieces: { mesh: InstancedMesh; first: number; count: number; ball: Sphere; level: number }[] = [];
  private geometries: BufferGeometry[] = [];
  private cloth: Cloth | null = null;
  private readonly turned = new Quaternion();
  private readonly start = new Quaternion();
  private readonly centre = new Vector3();
  private readonly pan = new Vector3();
  private radius = 100;
  private away = 1;
  private drawn = false;
  private measuredOnce = false;
  /** How many triangles there may be while it moves, and once it lies still. */
  private moving = MOST_TRIANGLES;
  private still = MOST_TRIANGLES;
  private most = MOST_TRIANGLES;
  private rest: ReturnType<typeof setTimeout> | undefined;
  private litNow: number[] = [];
  private readonly lightOn = new DirectionalLight(0xfff6e8, 2.1);

  constructor(canvas: HTMLCanvasElement) {
    this.canvas = canvas;
    const context = canvas.getContext("webgl2", { antialias: true, alpha: true, powerPreference: "low-power" });
    if (!context) throw new Error("no drawing in three dimensions");
    this.renderer = new WebGLRenderer({ canvas, context });
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    this.scene.add(new HemisphereLight(0xffffff, 0x8d8577, 1.35), this.lightOn, this.lightOn.target);
  }

  /** Takes a cloth in; the way it was turned stays unless `anew`. */
  put(cloth: Cloth, anew: boolean): void {
    this.cloth = cloth;
    for (const piece of this.pieces) {
      this.scene.remove(piece.mesh);
      piece.mesh.dispose();
    }
    for (const geometry of this.geometries) geometry.dispose();
    const aspect = aspectOf(cloth);
    this.geometries = LEVELS.map((level) => {
      const made = tube(level, aspect);
      const geometry = new BufferGeometry();
      geometry.setAttribute("position", new BufferAttribute(made.position, 3));
      geometry.setAttribute("normal", new BufferAttribute(made.normal, 3));
      geometry.setAttribute("turn", new BufferAttribute(made.turn, 2));
      geometry.setIndex(new BufferAttribute(made.index, 1));
      return geometry;
    });
    const each = Math.ceil(cloth.n / PIECES);
    this.pieces = [];
    for (let first = 0; first < cloth.n; first += each) this.pieces.push(this.piece(first, Math.min(each, cloth.n - first)));
    this.frameIt(anew);
    this.measure();
    this.lit(this.litNow.filter((n) => n < cloth.n));
  }

  private piece(first: number, count: number): ClothView["pieces"][number] {
    const cloth = this.cloth as Cloth;
    const mesh = new InstancedMesh(this.geometries[0] as BufferGeometry, this.material, count);
    const frames = mesh.instanceMatrix.array as Float32Array;
    const colours = new Float32Array(count * 3);
    const inks = cloth.colours.map((colour) => new Color(colour));
    const low = new Vector3(Infinity, Infinity, Infinity);
    const high = new Vector3(-Infinity, -Infinity, -Infinity);
    for (let n = 0; n < count; n++) {
      frame(cloth, first + n, frames, n * 16);
      const ink = inks[cloth.colour[first + n] as number] ?? (inks[0] as Color);
      ink.toArray(colours, n * 3);
      WALE.fromArray(cloth.at, (first + n) * 3);
      low.min(WALE);
      high.max(WALE);
    }
    mesh.instanceColor = new (mesh.instanceMatrix.constructor as new (a: Float32Array, n: number) => InstancedMesh["instanceColor"] & object)(colours, 3);
    mesh.frustumCulled = false;
    this.scene.add(mesh);
    const ball = new Sphere(low.clone().add(high).multiplyScalar(0.5), low.distanceTo(high) / 2 + 5);
    mesh.boundingSphere = ball;
    return { mesh, first, count, ball, level: 0 };
  }

  private frameIt(anew: boolean): void {
    const cloth = this.cloth as Cloth;
    const low = new Vector3(Infinity, Infinity, Infinity);
    const high = new Vector3(-Infinity, -Infinity, -Infinity);
    for (let n = 0; n < cloth.n; n++) {
      WALE.fromArray(cloth.at, n * 3);
      low.min(WALE);
      high.max(WALE);
    }
    this.centre.copy(low).add(high).multiplyScalar(0.5);
    this.radius = Math.max(10, low.distanceTo(high) / 2);
    const view = cloth.view ?? guessedView(cloth);
    const z = new Vector3().fromArray(view.front).normalize();
    const x = new Vector3().fromArray(view.up).cross(z).normalize();
    const y = z.clone().cross(x);
    this.start.setFromRotationMatrix(new Matrix4().makeBasis(x, y, z));
    if (anew) this.home();
  }

  home(): void {
    this.turned.copy(this.start);
    this.pan.set(0, 0, 0);
    this.away = 1;
    this.ask();
  }

  /** Turns the cloth by so many degrees: to the side, and over. */
  turn(sideways: number, over: number): void {
    const degree = Math.PI / 180;
    const yaw = new Quaternion().setFromAxisAngle(new Vector3(0, 1, 0), -sideways * degree);
    const pitch = new Quaternion().setFromAxisAngle(new Vector3(1, 0, 0), -over * degree);
    this.turned.multiply(yaw).multiply(pitch).normalize();
    this.ask();
  }

  nearer(times: number): void {
    this.away = Math.min(3, Math.max(0.02, this.away / times));
    this.ask();
  }

  slide(x: number, y: number): void {
    const per = (2 * this.distance() * Math.tan((FIELD_OF_VIEW / 2) * (Math.PI / 180))) / this.canvas.clientHeight;
    this.pan.add(new Vector3(-x * per, y * per, 0).applyQuaternion(this.turned));
    this.ask();
  }

  lookAt(stitch: number): void {
    this.pan.fromArray((this.cloth as Cloth).at, stitch * 3).sub(this.centre);
    this.away = Math.min(this.away, 0.3);
    this.ask();
  }

  private distance(): number {
    const half = (FIELD_OF_VIEW / 2) * (Math.PI / 180);
    const wide = Math.atan(Math.tan(half) * Math.min(1, this.camera.aspect));
    return (this.radius / Math.sin(wide)) * this.away * 0.92;
  }

  lit(stitches: readonly number[]): void {
    const cloth = this.cloth;
    if (!cloth) return;
    const inks = cloth.colours.map((colour) => new Color(colour));
    const accent = new Color(0xd1481c);
    const mend = (n: number, lit: boolean): void => {
      const piece = this.pieces[Math.floor(n / Math.ceil(cloth.n / PIECES))];
      if (!piece?.mesh.instanceColor) return;
      frame(cloth, n, piece.mesh.instanceMatrix.array as Float32Array, (n - piece.first) * 16, lit);
      (lit ? accent : (inks[cloth.colour[n] as number] ?? accent)).toArray(piece.mesh.instanceColor.array, (n - piece.first) * 3);
      piece.mesh.instanceMatrix.needsUpdate = true;
      piece.mesh.instanceColor.needsUpdate = true;
    };
    for (const n of this.litNow) if (n < cloth.n) mend(n, false);
    for (const n of stitches) mend(n, true);
    this.litNow = [...stitches];
    this.ask();
  }

  resize(): void {
    const { clientWidth: wide, clientHeight: high } = this.canvas;
    if (wide === 0 || high === 0) return;
    this.renderer.setSize(wide, high, false);
    this.camera.aspect = wide / high;
    this.ask();
  }

  pick(x: number, y: number): number {
    if (!this.cloth) return -1;
    this.place();
    const m = new Matrix4().multiplyMatrices(this.camera.projectionMatrix, this.camera.matrixWorldInverse);
    const near = Math.max(6, this.stitchPx() * 0.75);
    return picked(this.cloth, m.elements, { x, y, wide: this.canvas.clientWidth, high: this.canvas.clientHeight }, near);
  }

  /** How wide a stitch is on the screen at a place, in pixels. */
  private stitchPx(away = this.distance()): number {
    const at = this.cloth?.across;
    const wide = at ? Math.hypot(at[0] as number, at[1] as number, at[2] as number) || 4 : 4;
    return (wide / (2 * away * Math.tan((FIELD_OF_VIEW / 2) * (Math.PI / 180)))) * this.canvas.clientHeight;
  }

  private place(): void {
    const away = this.distance();
    const look = this.centre.clone().add(this.pan);
    this.camera.position.set(0, 0, away).applyQuaternion(this.turned).add(look);
    this.camera.quaternion.copy(this.turned);
    this.camera.near = Math.max(1, away - this.radius * 3);
    this.camera.far = away + this.radius * 3;
    this.camera.updateProjectionMatrix();
    this.camera.updateMatrixWorld();
    this.lightOn.position.set(-0.5, 0.9, 1.1).applyQuaternion(this.turned).multiplyScalar(this.radius * 4).add(look);
    this.lightOn.target.position.copy(look);
    this.lightOn.target.updateMatrixWorld();
  }

  /** Draws once, coarsely, to find out how much this machine draws in a moment: so fine and no finer is the cloth shown. */
  private measure(): void {
    if (this.canvas.clientWidth === 0 || this.measuredOnce) return;
    this.measuredOnce = true;
    const gl = this.renderer.getContext();
    const pixel = new Uint8Array(4);
    this.most = 1;
    this.draw(); // programs are built and everything is sent
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
    const begun = performance.now();
    this.draw();
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
    const perMs = this.measured.triangles / Math.max(0.2, performance.now() - begun);
    const within = (ms: number): number => Math.min(MOST_TRIANGLES, Math.max(LEAST_TRIANGLES, perMs * ms));
    this.moving = within(A_MOMENT_MS);
    this.still = within(A_BREATH_MS);
  }

  ask(): void {
    clearTimeout(this.rest);
    if (this.still > this.moving) {
      this.rest = setTimeout(() => {
        this.most = this.still;
        this.draw();
      }, STILL_AFTER_MS);
    }
    if (this.drawn) return;
    this.drawn = true;
    requestAnimationFrame(() => {
      this.drawn = false;
      this.most = this.moving;
      this.draw();
    });
  }

  private draw(): void {
    if (!this.cloth || this.canvas.clientWidth === 0) return;
    const begun = performance.now();
    this.place();
    const seen = new Frustum().setFromProjectionMatrix(new Matrix4().multiplyMatrices(this.camera.projectionMatrix, this.camera.matrixWorldInverse));
    const told: Piece[] = this.pieces.map(({ ball, count }) => {
      const away = Math.max(this.camera.near, this.camera.position.distanceTo(ball.center) - ball.radius);
      return { stitches: count, px: seen.intersectsSphere(ball) ? this.stitchPx(away) : 0 };
    });
    const levels = levelsOf(told, this.most);
    this.pieces.forEach((piece, n) => {
      piece.mesh.visible = (told[n] as Piece).px > 0;
      piece.mesh.geometry = this.geometries[levels[n] as number] as BufferGeometry;
    });
    this.renderer.render(this.scene, this.camera);
    const { calls, triangles } = this.renderer.info.render;
    Object.assign(this.measured, { calls, triangles });
    this.canvas.dataset.turned = this.turned.toArray().map((k) => k.toFixed(3)).join(" ");
    this.canvas.dataset.calls = String(calls);
    this.canvas.dataset.triangles = String(triangles);
    this.canvas.dataset.script = (performance.now() - begun).toFixed(2); // ms; what the card does after it is not in it
  }

  dispose(): void {
    clearTimeout(this.rest);
    this.cloth = null;
    for (const piece of this.pieces) piece.mesh.dispose();
    for (const geometry of this.geometries) geometry.dispose();
    this.material.dispose();
    this.renderer.dispose();
  }
}

/** Matt yarn of two plies; what lies deeper in the cloth is darker. */
function yarn(): MeshLambertMaterial {
  const material = new MeshLambertMaterial({ side: DoubleSide });
  material.onBeforeCompile = (shader) => {
    shader.vertexShader = shader.vertexShader
      .replace("#include <common>", "#include <common>\nattribute vec2 turn;\nvarying vec2 vTurn;\nvarying float vDeep;")
      .replace("#include <begin_vertex>", "#include <begin_vertex>\nvTurn = turn;\nvDeep = position.z;");
    shader.fragmentShader = shader.fragmentShader
      .replace("#include <common>", "#include <common>\nvarying vec2 vTurn;\nvarying float vDeep;")
      .replace(
        "#include <color_fragment>",
        `#include <color_fragment>
        float ply = sin(6.2831853 * (vTurn.x * 9.0 + vTurn.y * 2.0));
        float coarse = fwidth(vTurn.x) * 9.0;
        diffuseColor.rgb *= 1.0 + 0.13 * ply * (1.0 - smoothstep(0.15, 0.6, coarse));
        diffuseColor.rgb *= mix(0.62, 1.08, smoothstep(-0.24, 0.2, vDeep));`,
      );
  };
  return material;
}
