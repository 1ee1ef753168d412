// What the plan shows of the site file, on one level. Places only: what is reached and seen comes from the program.
import { isObject, pointerTo, type Json, type JsonObject } from '../document/json';
import { entriesOf, nameOfEntry } from '../document/names';
import { nominal } from '../forms/entry';
import { cornersOf, underlayOf, type Underlay } from '../trace/underlay';

export interface At {
  x: number;
  y: number;
}
export interface Line {
  id: string;
  collection: string;
  name: string;
  points: At[];
  key: string; // the member that holds the points: path, outline, region
  kind: string; // surface of a wall, kind of a block
}
export interface Device {
  id: string;
  collection: 'cameras' | 'detectors';
  name: string;
  at: At;
  bearing: number | null;
}
export interface Opening {
  id: string;
  name: string;
  kind: string;
  from: At;
  to: At;
}
export interface Scene {
  walls: Line[];
  blocks: Line[];
  privacy: Line[];
  protected: Line[]; // where somebody is to be detected
  openings: Opening[];
  devices: Device[];
  picture: Underlay | null; // what is traced over
}

const pointsOf = (value: Json | undefined): At[] =>
  Array.isArray(value)
    ? value.flatMap((point) => {
        const x = isObject(point) ? nominal(point.x_m) : null;
        const y = isObject(point) ? nominal(point.y_m) : null;
        return x === null || y === null ? [] : [{ x, y }];
      })
    : [];

export function sceneOf(document: Json, level: string): Scene {
  const on = ([, entry]: [string, JsonObject]) => entry.level === level;
  const lines = (collection: string, key: string, kind: string): Line[] =>
    entriesOf(document, collection)
      .filter(on)
      .map(([id, entry]) => ({ id, collection, key, name: nameOfEntry(id, entry), points: pointsOf(entry[key]), kind: String(entry[kind] ?? '') }));
  const walls = lines('walls', 'path', 'surface');
  return {
    walls,
    blocks: lines('blocks', 'outline', 'kind'),
    privacy: lines('privacy_areas', 'outline', 'kind'),
    protected: lines('protected_places', 'outline', 'kind'),
    openings: openingsOf(document, walls),
    devices: [...devicesOf(document, 'cameras', level), ...devicesOf(document, 'detectors', level)],
    picture: underlayOf(document, level),
  };
}

function devicesOf(document: Json, collection: 'cameras' | 'detectors', level: string): Device[] {
  return entriesOf(document, collection).flatMap(([id, entry]) => {
    const mount = isObject(entry.mount) ? entry.mount : {};
    const x = nominal(mount.x_m);
    const y = nominal(mount.y_m);
    if (mount.level !== level || x === null || y === null) return [];
    return [{ id, collection, name: nameOfEntry(id, entry), at: { x, y }, bearing: nominal(mount.bearing_deg) }];
  });
}

/** Devices of the file that hang nowhere yet: a draft knows them before there is a plan. */
export function unplaced(document: Json, collection: 'cameras' | 'detectors'): [string, string][] {
  return entriesOf(document, collection)
    .filter(([, entry]) => !isObject(entry.mount) || nominal(entry.mount.x_m) === null || nominal(entry.mount.y_m) === null || typeof entry.mount.level !== 'string')
    .map(([id, entry]) => [id, nameOfEntry(id, entry)]);
}

/** Openings lie along a stretch of their wall. */
export function openingsOf(document: Json, walls: readonly Line[]): Opening[] {
  return entriesOf(document, 'openings').flatMap(([id, entry]) => {
    const wall = walls.find((one) => one.id === entry.wall);
    const stretch = Number(entry.stretch ?? 1);
    const [a, b] = [wall?.points[stretch - 1], wall?.points[stretch]];
    const along = nominal(entry.along_m);
    const width = nominal(entry.width_m);
    if (!a || !b || along === null || width === null) return [];
    const length = Math.hypot(b.x - a.x, b.y - a.y) || 1;
    const on = (t: number): At => ({ x: a.x + ((b.x - a.x) * t) / length, y: a.y + ((b.y - a.y) * t) / length });
    return [{ id, name: nameOfEntry(id, entry), kind: String(entry.kind ?? ''), from: on(along), to: on(along + width) }];
  });
}

/** The rectangle that holds everything, with room around; a hall of 20 m by 15 m where there is nothing yet. */
export function boundsOf(scene: Scene): { x: number; y: number; width: number; height: number } {
  const all = [...[...scene.walls, ...scene.blocks, ...scene.privacy, ...scene.protected].flatMap((line) => line.points), ...scene.devices.map((device) => device.at), ...(scene.picture ? cornersOf(scene.picture) : [])];
  if (all.length === 0) return { x: -1.5, y: -16.5, width: 23, height: 18 };
  const xs = all.map((at) => at.x);
  const ys = all.map((at) => -at.y);
  const [left, right, top, low] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const room = Math.max(1, 0.06 * Math.max(right - left, low - top));
  return { x: left - room, y: top - room, width: right - left + 2 * room, height: low - top + 2 * room };
}

/** The zones whose detection a device has to do with, for a question that is no larger than it has to be. */
export function zoneOfDetector(document: Json, detector: string): string | null {
  for (const [id, zone] of entriesOf(document, 'zones')) {
    const contacts = isObject(zone.loop) && isObject(zone.loop.contacts) ? Object.values(zone.loop.contacts) : [];
    if (contacts.some((contact) => isObject(contact) && contact.detector === detector)) return id;
  }
  const own = entriesOf(document, 'detectors').find(([id]) => id === detector)?.[1].zone;
  return typeof own === 'string' ? own : null;
}

export const mountPointer = (device: Device, key: string) => pointerTo(device.collection, device.id, 'mount', key);
