// What the hand is doing on the plan. A drag is shown from here until the edit is made: the document is touched once, at its end.
import type { At } from './scene';

export type Tool = 'choose' | 'wall' | 'room' | 'block' | 'protect' | 'privacy' | 'camera' | 'detector' | 'measure' | 'shift';
/** Tools of the bar; those of the picture below the plan are beside it (trace/PictureBelow.svelte). */
export const kTools: readonly Tool[] = ['choose', 'room', 'wall', 'block', 'protect', 'detector', 'camera', 'privacy'];

export type Drag =
  | { kind: 'device'; id: string; at: At }
  | { kind: 'turn'; id: string; bearing: number }
  | { kind: 'line'; id: string; points: At[] }
  | { kind: 'rectangle'; from: At; to: At }
  | { kind: 'picture'; at: At }; // lower left corner of what lies below the plan

export class Hand {
  tool = $state<Tool>('choose');
  selected = $state<string | null>(null);
  drag = $state.raw<Drag | null>(null);
  drawn = $state.raw<At[]>([]); // corners of a wall that is being drawn
  cursor = $state.raw<At | null>(null); // where the next corner would be
  measured = $state.raw<At[]>([]); // ends of a length on the picture below the plan

  take(tool: Tool): void {
    this.tool = tool;
    this.drawn = [];
    this.drag = null;
    this.measured = [];
  }
  deviceAt = (id: string, at: At): At => (this.drag?.kind === 'device' && this.drag.id === id ? this.drag.at : at);
  bearingOf = (id: string, bearing: number | null): number | null => (this.drag?.kind === 'turn' && this.drag.id === id ? this.drag.bearing : bearing);
  pointsOf = (id: string, points: At[]): At[] => (this.drag?.kind === 'line' && this.drag.id === id ? this.drag.points : points);
  pictureAt = (at: At): At => (this.drag?.kind === 'picture' ? this.drag.at : at);
}
