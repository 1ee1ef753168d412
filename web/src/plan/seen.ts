// What `sight` answers, as the plan shows it: areas as outlines, blind patches with one number each through all zones.
import type { Evidence } from '../api/answers';
import type { At } from './scene';

/** What is left out while the plan follows the hand: trying changes and what else a camera films take ten times as long. */
export const kFollowing = { cures: false, uses: false } as const;
/** What cameras see and do not see, as the plan shows it at rest. */
export const kSight = { command: 'sight', cures: false } as const;

export interface Ring {
  x_m: number;
  y_m: number;
}
export interface Sight {
  zones: {
    zone: string;
    number: number | null;
    name: string | null;
    witnessed: Evidence | null;
    areas: { level: string; outlines: Ring[][] }[];
    patches: { level: string; area_m2: number; outlines: Ring[][]; x_m: number; y_m: number; causes: { camera: string; thing: string | null; says: { text: string } }[] }[];
  }[];
  cameras: { camera: string; filmed_m2: Record<string, number>; shows_nothing: boolean; live_only: boolean; zones: string[] }[];
}
export interface Area {
  key: string;
  zone: string;
  outlines: Ring[][];
}
export interface Blind {
  key: string;
  number: number;
  zone: string;
  zoneName: string;
  at: At;
  area_m2: number;
  causes: { camera: string; thing: string | null; text: string }[];
  outlines: Ring[][];
  level: string;
}

type Zone = Sight['zones'][number];
export const inOrder = (zones: readonly Zone[]) => [...zones].sort((a, b) => (a.number ?? 1e9) - (b.number ?? 1e9) || a.zone.localeCompare(b.zone));

/** Zones of an answer to a smaller question take the place of those of the whole. */
export function merged(whole: readonly Zone[], part: readonly Zone[] | null): Zone[] {
  if (!part) return [...whole];
  const news = new Map(part.map((zone) => [zone.zone, zone]));
  return [...whole.map((zone) => news.get(zone.zone) ?? zone), ...part.filter((zone) => !whole.some((one) => one.zone === zone.zone))];
}

export function areasOn(zones: readonly Zone[], level: string): Area[] {
  return zones.flatMap((zone) => zone.areas.filter((area) => area.level === level).map((area, i) => ({ key: `${zone.zone}-${i}`, zone: zone.zone, outlines: area.outlines })));
}

export function blindIn(zones: readonly Zone[]): Blind[] {
  let number = 0;
  return inOrder(zones).flatMap((zone) =>
    zone.patches.map((patch, i): Blind => ({
      key: `${zone.zone}-${i}`, number: ++number, zone: zone.zone, zoneName: [zone.number, zone.name].filter((one) => one !== null).join(' '),
      at: { x: patch.x_m, y: patch.y_m }, area_m2: patch.area_m2, level: patch.level, outlines: patch.outlines,
      causes: patch.causes.map((cause) => ({ camera: cause.camera, thing: cause.thing, text: cause.says.text })),
    })),
  );
}
