// The reed in three dimensions: drawn when something changed, at half resolution while it turns.
import {
  BufferAttribute,
  BufferGeometry,
  CanvasTexture,
  Color,
  ColorManagement,
  DoubleSide,
  Group,
  LineBasicMaterial,
  LineSegments,
  LinearFilter,
  LinearSRGBColorSpace,
  Mesh,
  MeshBasicMaterial,
  PerspectiveCamera,
  Raycaster,
  Scene,
  Vector2,
  Vector3,
  WebGLRenderer,
} from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import type { Colouring, Palettes } from "./colourings";
import type { PageData, ReedMap, Step } from "./data";
import { ribbonOf } from "./ribbon";
import { canvasOf, paint, wholeMap, wiped } from "./colour_image";
import { type Relief, movementOf, reliefOf, shadingOf } from "./relief";

// The maps' colours are meant as they are, not as light to be mixed.
ColorManagement.enabled = false;

/// The scan before, to be seen left of a line.
export interface Before {
  map: ReedMap;
  colours: Colouring;
  share: number;
  clipped_mm: number;
}

export type Movement = "still" | "bent" | number;

const secondsPerSwing = 2;
/// The largest excursion of a movement, so that it shows at any force.
const swing_mm = 4;

export class Surface {
  private readonly renderer: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly body = new Group();
  private readonly camera = new PerspectiveCamera(30, 1, 1, 1000);
  private readonly controls: OrbitControls;
  /// The upper face carries the flat map's image, marks and all; the rest is plain.
  private readonly face = new MeshBasicMaterial({ vertexColors: true, side: DoubleSide });
  private readonly cane = new MeshBasicMaterial({ vertexColors: true, side: DoubleSide });
  private readonly dark = new LineBasicMaterial({ color: 0x1a1a1e });
  /// Dark with a light rim, to be seen on every colour of the maps.
  private readonly bands = [
    { width_mm: 0.62, material: new MeshBasicMaterial({ color: 0xffffff, side: DoubleSide, depthTest: false }) },
    { width_mm: 0.32, material: new MeshBasicMaterial({ color: 0x1a1a1e, side: DoubleSide, depthTest: false }) },
  ];
  private readonly mark: LineSegments;
  private mesh: Mesh | null = null;
  private relief: Relief | null = null;
  private still: Float32Array | null = null;
  private moved: Float32Array | null = null;
  private places: Mesh[] = [];
  private map: ReedMap | null = null;
  private colours: Colouring | null = null;
  private wipe: number | undefined = undefined;
  private image = document.createElement("canvas");
  private imageBefore: HTMLCanvasElement | null = null;
  private exaggeration = 5;
  private length_mm = 36;
  private movement: Movement = "still";
  private turning = false;
  private asked = 0;
  private settle = 0;
  private readonly sizes: ResizeObserver;

  /// Throws where the browser has no WebGL.
  constructor(
    private readonly canvas: HTMLCanvasElement,
    private readonly data: PageData,
  ) {
    this.renderer = new WebGLRenderer({ canvas, antialias: false, alpha: true, preserveDrawingBuffer: true, powerPreference: "high-performance" });
    this.renderer.outputColorSpace = LinearSRGBColorSpace;
    this.renderer.setClearColor(new Color(0), 0);
    this.scene.add(this.body);
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.addEventListener("change", () => this.ask());
    this.controls.addEventListener("start", () => this.turn(true));
    this.controls.addEventListener("end", () => this.turn(false));
    const cross = new BufferGeometry();
    cross.setAttribute("position", new BufferAttribute(new Float32Array([-1.2, 0, 0, 1.2, 0, 0, 0, -1.2, 0, 0, 1.2, 0, 0, 0, -0.5, 0, 0, 3]), 3));
    this.mark = new LineSegments(cross, this.dark);
    this.dark.depthTest = false;
    this.mark.renderOrder = 3;
    this.body.add(this.mark);
    this.sizes = new ResizeObserver(() => this.resize());
    this.sizes.observe(canvas);
    this.resize();
  }

  close(): void {
    this.sizes.disconnect();
    cancelAnimationFrame(this.asked);
    clearTimeout(this.settle);
    this.controls.dispose();
    this.mesh?.geometry.dispose();
    this.face.map?.dispose();
    for (const place of this.places) place.geometry.dispose();
    this.renderer.dispose();
  }

  show(map: ReedMap, colours: Colouring, palettes: Palettes, exaggeration: number, to_mm: number, before: Before | null): void {
    const isNew = map !== this.map || to_mm !== this.length_mm;
    this.exaggeration = exaggeration;
    if (isNew || !this.relief) {
      this.map = map;
      this.length_mm = to_mm;
      this.relief = reliefOf(map, to_mm);
      this.still = this.relief.positions.slice();
      const geometry = new BufferGeometry();
      geometry.setAttribute("position", new BufferAttribute(this.relief.positions, 3));
      geometry.setAttribute("uv", new BufferAttribute(this.relief.places, 2));
      geometry.setIndex(new BufferAttribute(this.relief.triangles, 1));
      geometry.addGroup(0, this.relief.upper, 0);
      geometry.addGroup(this.relief.upper, this.relief.triangles.length - this.relief.upper, 1);
      this.mesh?.geometry.dispose();
      if (this.mesh) this.mesh.geometry = geometry;
      else this.body.add((this.mesh = new Mesh(geometry, [this.face, this.cane])));
    }
    this.mesh?.geometry.setAttribute("color", new BufferAttribute(shadingOf(this.relief, map, exaggeration), 3));
    if (colours !== this.colours || before?.share !== this.wipe) {
      if (colours !== this.colours) {
        this.image = canvasOf(paint(map, colours, palettes, wholeMap(map)));
        this.imageBefore = before ? canvasOf(paint(before.map, before.colours, palettes, wholeMap(before.map))) : null;
      }
      this.colours = colours;
      this.wipe = before?.share;
      const image =
        before && this.imageBefore
          ? wiped({ canvas: this.image, map }, { canvas: this.imageBefore, map: before.map }, before.share, before.clipped_mm)
          : this.image;
      this.face.map?.dispose();
      this.face.map = new CanvasTexture(image);
      this.face.map.generateMipmaps = false;
      this.face.map.minFilter = LinearFilter;
      this.face.needsUpdate = true;
    }
    this.body.scale.z = exaggeration;
    this.body.position.y = 0.5 * to_mm;
    this.prepareMovement();
    if (isNew) this.fit();
    this.ask();
  }

  showPlaces(steps: Step[]): void {
    for (const place of this.places) {
      place.geometry.dispose();
      this.body.remove(place);
    }
    this.places = this.bands.flatMap(({ width_mm, material }, k) =>
      steps.map((step) => {
        const band = ribbonOf(step.polygon, width_mm, (x, y) => this.heightAt(x, y));
        const geometry = new BufferGeometry();
        geometry.setAttribute("position", new BufferAttribute(band.positions, 3));
        geometry.setIndex(new BufferAttribute(band.triangles, 1));
        const place = new Mesh(geometry, material);
        place.renderOrder = 1 + k;
        place.visible = this.movement === "still";
        this.body.add(place);
        return place;
      }),
    );
    this.ask();
  }

  showCursor(x_mm: number, y_mm: number): void {
    this.mark.position.set(y_mm, -x_mm, this.heightAt(x_mm, y_mm));
    this.mark.scale.z = 1 / this.exaggeration;
    this.showCursorNow();
    this.ask();
  }
  private showCursorNow(): void {
    this.mark.visible = this.movement === "still" && -this.mark.position.y <= this.length_mm;
  }

  /// Places are marked on the reed at rest only.
  move(movement: Movement): void {
    this.movement = movement;
    for (const place of this.places) place.visible = movement === "still";
    this.showCursorNow();
    this.prepareMovement();
    this.ask();
  }

  inkIs(colour: string): void {
    this.dark.color.set(colour);
    this.ask();
  }

  fit(): void {
    // Tip up and left on the left, as on every picture; tilted, so that it is seen to be a body.
    const tilt = 0.5;
    const half = (0.5 * this.length_mm + 1) * Math.cos(tilt) + 2;
    const across = 9;
    const fov = (this.camera.fov * Math.PI) / 360;
    const distance = Math.max(half / Math.tan(fov), across / (Math.tan(fov) * this.camera.aspect)) + 2;
    this.controls.target.set(0, 0, 0);
    this.camera.up.set(0, 1, 0);
    this.camera.position.set(0, -distance * Math.sin(tilt), distance * Math.cos(tilt));
    this.controls.update();
    this.ask();
  }

  /// About the reed's middle, in radians.
  orbit(sideways: number, up: number): void {
    const offset = this.camera.position.clone().sub(this.controls.target);
    const distance = offset.length();
    const axis = new Vector3(0, 1, 0);
    const azimuth = Math.atan2(offset.x, offset.z) + sideways;
    const polar = Math.min(3.0, Math.max(0.1, Math.acos(offset.dot(axis) / distance) - up));
    offset.set(distance * Math.sin(polar) * Math.sin(azimuth), distance * Math.cos(polar), distance * Math.sin(polar) * Math.cos(azimuth));
    this.camera.position.copy(this.controls.target).add(offset);
    this.controls.update();
    this.brieflyTurning();
  }

  zoom(factor: number): void {
    const offset = this.camera.position.clone().sub(this.controls.target);
    offset.setLength(Math.min(400, Math.max(12, offset.length() * factor)));
    this.camera.position.copy(this.controls.target).add(offset);
    this.controls.update();
    this.ask();
  }

  /// The place of the reed under a point of the screen.
  pick(client_x: number, client_y: number): { x_mm: number; y_mm: number } | null {
    if (!this.mesh) return null;
    const box = this.canvas.getBoundingClientRect();
    const at = new Vector2(((client_x - box.left) / box.width) * 2 - 1, 1 - ((client_y - box.top) / box.height) * 2);
    const ray = new Raycaster();
    ray.setFromCamera(at, this.camera);
    const hit = ray.intersectObject(this.mesh)[0];
    if (!hit) return null;
    const local = this.body.worldToLocal(hit.point.clone());
    return { x_mm: -local.y, y_mm: local.x };
  }

  /// Drawn sharp, whatever was going on and however coarse the screen is.
  picture(): string {
    this.turning = false;
    this.resize();
    this.renderer.setPixelRatio(2);
    this.draw();
    const address = this.canvas.toDataURL("image/png");
    this.resize();
    return address;
  }

  /// Beyond the rim and where nothing was seen, the height of the nearest cell towards the centreline.
  private heightAt(x_mm: number, y_mm: number): number {
    const map = this.map;
    if (!map) return 0;
    const inwards = -Math.sign(y_mm) * map.grid.cell_mm;
    for (let y = y_mm; y * y_mm >= 0; y += inwards) {
      const at = map.cellAt(x_mm, y);
      const um = at ? (map.field("thickness")[map.index(at.row, at.column)] ?? NaN) : NaN;
      if (!Number.isNaN(um)) return um / 1000;
      if (inwards === 0) break;
    }
    return 0;
  }

  private prepareMovement(): void {
    const bending = this.data.bending;
    if (!this.relief || !this.map || !bending || this.movement === "still") {
      this.moved = null;
      this.place(0);
      return;
    }
    const shape = this.movement === "bent" ? bending.bent_mm : bending.modes[this.movement]?.shape;
    this.moved = shape ? movementOf(this.relief, this.map, shape, bending) : null;
    if (!this.moved) return;
    const most = this.moved.reduce((m, v) => Math.max(m, Math.abs(v)), 1e-9);
    // Towards the mouthpiece, that is down: the flat face meets the facing.
    for (let k = 0; k < this.moved.length; k++) this.moved[k] = (-(this.moved[k] ?? 0) / most) * (swing_mm / this.exaggeration);
  }

  private place(share: number): void {
    if (!this.relief || !this.still || !this.mesh) return;
    const count = this.relief.cells.length;
    const positions = this.relief.positions;
    for (let k = 0; k < count; k++) {
      const shift = share * (this.moved?.[k] ?? 0);
      positions[3 * k + 2] = (this.still[3 * k + 2] ?? 0) + shift;
      positions[3 * (count + k) + 2] = shift;
    }
    const attribute = this.mesh.geometry.getAttribute("position");
    if (attribute) attribute.needsUpdate = true;
  }

  private turn(isTurning: boolean): void {
    clearTimeout(this.settle);
    if (isTurning) {
      this.turning = true;
      this.resize();
    } else {
      this.settle = window.setTimeout(() => {
        this.turning = false;
        this.resize();
      }, 150);
    }
  }
  private brieflyTurning(): void {
    if (!this.turning) this.turn(true);
    this.turn(false);
    this.ask();
  }

  private resize(): void {
    const width = this.canvas.clientWidth;
    const height = this.canvas.clientHeight;
    if (width === 0 || height === 0) return;
    const sharp = Math.min(2, window.devicePixelRatio);
    this.renderer.setPixelRatio(this.turning ? 0.5 * sharp : sharp);
    this.renderer.setSize(width, height, false);
    const wasUpright = this.camera.aspect;
    this.camera.aspect = width / height;
    this.camera.updateProjectionMatrix();
    if (Math.abs(wasUpright - this.camera.aspect) > 0.02) this.fit();
    this.draw();
  }

  private ask(): void {
    if (this.asked === 0) this.asked = requestAnimationFrame((time) => this.frame(time));
  }
  private frame(time: number): void {
    this.asked = 0;
    if (this.moved) {
      const phase = (time / 1000 / secondsPerSwing) * 2 * Math.PI;
      this.place(this.movement === "bent" ? 0.5 - 0.5 * Math.cos(phase) : Math.sin(phase));
      if (!document.hidden) this.ask();
    }
    this.draw();
  }
  private draw(): void {
    this.renderer.render(this.scene, this.camera);
  }
}
