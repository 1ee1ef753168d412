// Lines of a drawing in DXF: read by a library, laid flat, by layers; what is not taken is counted by its kind. Lengths are
// in the file's own unit. Group codes as in the DXF reference: 0 kind, 2 name, 8 layer, 42 bulge, 67 paper space.
import DxfParser, { type IDxf, type IEntity } from 'dxf-parser';
import type { At } from '../plan/scene';

export type Why = 'kind' | 'paper' | 'tilted' | 'no_block' | 'too_deep' | 'empty';
export interface Skipped {
  kind: string; // as the file has it: TEXT, HATCH
  why: Why;
  count: number;
}
export interface DrawnLayer {
  name: string;
  shown: boolean; // neither frozen nor switched off in the file
  lines: At[][];
}
export interface Drawing {
  unit_m: number | null; // metres in a unit of the file; null where it does not tell
  layers: DrawnLayer[];
  skipped: Skipped[];
}
/** What is wrong with a file, for a person. */
export type FaultOfDxf = 'not_dxf' | 'binary' | 'malformed' | 'too_much' | 'nothing';
export class DxfFault extends Error {
  constructor(
    readonly fault: FaultOfDxf,
    readonly detail = '',
  ) {
    super(`${fault} ${detail}`);
  }
}

/** $INSUNITS, as the DXF reference numbers units. */
const kUnits_m: Record<number, number> = { 1: 0.0254, 2: 0.3048, 3: 1609.344, 4: 0.001, 5: 0.01, 6: 1, 7: 1000, 8: 2.54e-8, 9: 2.54e-5, 10: 0.9144, 14: 0.1, 15: 10, 16: 100, 21: 1200 / 3937 };
const kMostPoints = 200_000;
const kDeepest = 16; // blocks in blocks
const kMostCopies = 10_000; // of a block that is laid out in rows and columns
const kChord_deg = 10; // an arc is drawn as straight walls of no more than this

export function readDxf(bytes: Uint8Array): Drawing {
  const text = textOf(bytes);
  const unread = countKinds(text);
  let parsed: IDxf | null;
  try {
    parsed = new DxfParser().parse(text);
  } catch (fault) {
    throw new DxfFault('malformed', fault instanceof Error ? fault.message.slice(0, 160) : '');
  }
  if (!parsed?.entities) throw new DxfFault('malformed', 'ENTITIES');
  return new Flat(parsed, unread).drawing();
}

function textOf(bytes: Uint8Array): string {
  if (bytes.subarray(0, 4096).includes(0)) throw new DxfFault('binary');
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes); // what older files are written in
  }
}

type Kinds = Map<string, number>;
/** How many things of which kind stand in the drawing and in each block: the library leaves out what it does not know. */
interface KindsRead {
  drawing: Kinds;
  blocks: Map<string, Kinds>;
}
const kParts = new Set(['VERTEX', 'SEQEND', 'ATTRIB', 'BLOCK', 'ENDBLK', 'SECTION', 'ENDSEC', 'EOF']);
function countKinds(text: string): KindsRead {
  const lines = text.split(/\r\n|\r|\n/);
  const read: KindsRead = { drawing: new Map(), blocks: new Map() };
  let section = '';
  let kinds: Kinds | null = null;
  let begun = '';
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const code = lines[i]!.trim();
    const value = lines[i + 1]!.trim();
    if (!/^-?\d+$/.test(code)) throw new DxfFault(i < 20 ? 'not_dxf' : 'malformed', `${i + 1}: ${code.slice(0, 40)}`);
    if (code === '0') {
      begun = value;
      if (value === 'ENDSEC') section = '';
      if (value === 'ENDBLK' || value === 'ENDSEC') kinds = null;
      if (section === 'ENTITIES') kinds = read.drawing;
      if (kinds && !kParts.has(value)) kinds.set(value, (kinds.get(value) ?? 0) + 1);
    } else if (code === '2' && begun === 'SECTION') section = value;
    else if (code === '2' && begun === 'BLOCK' && section === 'BLOCKS' && kinds === null) read.blocks.set(value, (kinds = new Map()));
  }
  if (read.drawing.size === 0 && !/^\s*0\s*[\r\n]+\s*SECTION/m.test(text)) throw new DxfFault('not_dxf');
  return read;
}

/** From the place in a block to that on the plan. */
type Move = (at: At) => At;
type Entity = IEntity & Record<string, unknown>;
const kLines = new Set(['LINE', 'LWPOLYLINE', 'POLYLINE', 'ARC', 'CIRCLE', 'INSERT']);
/** Kinds that the library reads; others are only in the count. */
const kRead = new Set([...kLines, '3DFACE', 'ATTDEF', 'DIMENSION', 'ELLIPSE', 'MTEXT', 'POINT', 'SOLID', 'SPLINE', 'TEXT']);
const isAt = (value: unknown): value is At => {
  const at = value as Partial<At> | null | undefined;
  return typeof at === 'object' && at !== null && Number.isFinite(at.x) && Number.isFinite(at.y);
};
const finite = (value: unknown, other: number) => (typeof value === 'number' && Number.isFinite(value) ? value : other);

class Flat {
  readonly #lines = new Map<string, At[][]>();
  readonly #skipped = new Map<string, Skipped>();
  #points = 0;

  constructor(
    private readonly dxf: IDxf,
    private readonly kinds: KindsRead,
  ) {}

  drawing(): Drawing {
    this.#all(this.dxf.entities as Entity[], this.kinds.drawing, (at) => at, null, 0);
    const layers = this.dxf.tables?.layer?.layers ?? {};
    const told = Object.hasOwn(this.dxf.header ?? {}, '$INSUNITS') ? kUnits_m[Number(this.dxf.header.$INSUNITS)] : undefined;
    return {
      unit_m: told ?? null,
      layers: [...this.#lines].map(([name, lines]) => {
        const layer = Object.hasOwn(layers, name) ? layers[name] : undefined;
        return { name, lines, shown: layer?.visible !== false && layer?.frozen !== true };
      }).sort((a, b) => a.name.localeCompare(b.name)),
      skipped: [...this.#skipped.values()].sort((a, b) => b.count - a.count || a.kind.localeCompare(b.kind)),
    };
  }

  #skip(kind: string, why: Why, count = 1): void {
    const key = `${kind} ${why}`;
    const before = this.#skipped.get(key);
    this.#skipped.set(key, { kind, why, count: (before?.count ?? 0) + count });
  }
  #add(layer: string, points: At[], kind: string): void {
    const line = points.filter((at, i) => i === 0 || at.x !== points[i - 1]!.x || at.y !== points[i - 1]!.y);
    if (line.length < 2 || !line.every(isAt)) return this.#skip(kind, 'empty');
    this.#points += line.length;
    if (this.#points > kMostPoints) throw new DxfFault('too_much', String(kMostPoints));
    const lines = this.#lines.get(layer);
    if (lines) lines.push(line);
    else this.#lines.set(layer, [line]);
  }
  #all(entities: readonly Entity[], kinds: Kinds | undefined, move: Move, inherited: string | null, depth: number): void {
    for (const [kind, count] of kinds ?? []) if (!kRead.has(kind)) this.#skip(kind, 'kind', count);
    for (const entity of entities) this.#one(entity, move, inherited, depth);
  }
  #one(entity: Entity, move: Move, inherited: string | null, depth: number): void {
    const { type } = entity;
    if (!kLines.has(type)) return this.#skip(type, 'kind');
    if (entity.inPaperSpace) return this.#skip(type, 'paper');
    const own = typeof entity.layer === 'string' ? entity.layer : '0';
    const layer = own === '0' && inherited !== null ? inherited : own; // things on layer 0 of a block lie where it is set in
    const up = normalOf(entity);
    if (up === null) return this.#skip(type, 'tilted');
    const placed: Move = up > 0 || type === 'LINE' ? move : (at) => move({ x: -at.x, y: at.y }); // the other side of the sheet
    if (type === 'INSERT') return this.#insert(entity, placed, layer, depth);
    const points = pointsOf(entity);
    if (points === null) return this.#skip(type, type === 'POLYLINE' ? 'tilted' : 'empty');
    this.#add(layer, points.map(placed), type);
  }
  #insert(entity: Entity, move: Move, layer: string, depth: number): void {
    const name = String(entity.name ?? '');
    const block = Object.hasOwn(this.dxf.blocks ?? {}, name) ? this.dxf.blocks[name] : undefined;
    if (!block || !isAt(entity.position)) return this.#skip('INSERT', 'no_block');
    if (depth >= kDeepest) return this.#skip('INSERT', 'too_deep');
    const base = isAt(block.position) ? block.position : { x: 0, y: 0 };
    const at = entity.position;
    const [wide, high] = [finite(entity.xScale, 1), finite(entity.yScale, 1)];
    const turn = (finite(entity.rotation, 0) * Math.PI) / 180;
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
    const columns = Math.max(1, Math.floor(finite(entity.columnCount, 1)));
    const rows = Math.max(1, Math.floor(finite(entity.rowCount, 1)));
    if (columns * rows > kMostCopies) throw new DxfFault('too_much', String(kMostCopies));
    for (let row = 0; row < rows; ++row) {
      for (let column = 0; column < columns; ++column) {
        const dx = column * finite(entity.columnSpacing, 0);
        const dy = row * finite(entity.rowSpacing, 0);
        const inside: Move = (point) => {
          const x = (point.x - base.x) * wide + dx;
          const y = (point.y - base.y) * high + dy;
          return move({ x: at.x + x * cos - y * sin, y: at.y + x * sin + y * cos });
        };
        this.#all((block.entities ?? []) as Entity[], this.kinds.blocks.get(name), inside, layer, depth + 1);
      }
    }
  }
}

/** 1: seen from above; -1: from below; null: tilted, and nothing that lies on a plan. */
function normalOf(entity: Entity): 1 | -1 | null {
  const own = entity.extrusionDirection as { x?: number; y?: number; z?: number } | undefined;
  const x = finite(own?.x ?? entity.extrusionDirectionX, 0);
  const y = finite(own?.y ?? entity.extrusionDirectionY, 0);
  const z = finite(own?.z ?? entity.extrusionDirectionZ, 1);
  return Math.hypot(x, y) > 1e-6 * Math.abs(z) ? null : z > 0 ? 1 : -1;
}

function pointsOf(entity: Entity): At[] | null {
  const corners = (Array.isArray(entity.vertices) ? entity.vertices : []) as (At & { bulge?: number; splineControlPoint?: boolean })[];
  if (entity.type === 'LINE') return corners.length === 2 && corners.every(isAt) ? corners.map(({ x, y }) => ({ x, y })) : null;
  if (entity.type === 'ARC' || entity.type === 'CIRCLE') {
    const radius = finite(entity.radius, 0);
    if (!isAt(entity.center) || radius <= 0) return null;
    const from = entity.type === 'CIRCLE' ? 0 : finite(entity.startAngle, 0);
    const to = entity.type === 'CIRCLE' ? 2 * Math.PI : finite(entity.endAngle, 0);
    const length = entity.type === 'CIRCLE' ? to : (((to - from) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI) || 2 * Math.PI;
    return arc(entity.center, radius, from, length);
  }
  if (entity.is3dPolygonMesh || entity.isPolyfaceMesh) return null;
  const path = corners.filter((at) => isAt(at) && !at.splineControlPoint);
  if (path.length < 2) return null;
  const closed = entity.shape === true;
  const points: At[] = [{ x: path[0]!.x, y: path[0]!.y }];
  for (let i = 0; i < path.length - (closed ? 0 : 1); ++i) {
    const [a, b] = [path[i]!, path[(i + 1) % path.length]!];
    if (a.bulge) points.push(...bulged(a, b, a.bulge));
    points.push({ x: b.x, y: b.y });
  }
  return points;
}
function arc(centre: At, radius: number, from: number, length: number): At[] {
  const parts = Math.max(2, Math.ceil(Math.abs((length * 180) / Math.PI) / kChord_deg));
  return Array.from({ length: parts + 1 }, (_one, i) => {
    const angle = from + (length * i) / parts;
    return { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) };
  });
}
/** The places between two corners of a stretch that is an arc: its bulge is the tangent of a quarter of its angle. */
function bulged(a: At, b: At, bulge: number): At[] {
  const angle = 4 * Math.atan(bulge);
  const chord = Math.hypot(b.x - a.x, b.y - a.y);
  if (chord === 0 || !Number.isFinite(angle)) return [];
  const radius = chord / (2 * Math.sin(angle / 2)); // negative where it bends to the right
  const away = radius * Math.cos(angle / 2); // of the centre from the chord, to its left
  const centre = { x: (a.x + b.x) / 2 - ((b.y - a.y) / chord) * away, y: (a.y + b.y) / 2 + ((b.x - a.x) / chord) * away };
  return arc(centre, Math.abs(radius), Math.atan2(a.y - centre.y, a.x - centre.x), angle).slice(1, -1);
}
