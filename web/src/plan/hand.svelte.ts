// What the hand is doing on the plan. A drag is shown from here until the edit is made: the document is touched once, at its end.
import type { At } from './scene';

export type Tool = 'choose' | 'wall' | 'room' | 'block' | 'privacy' | 'camera' | 'detector';
export const kTools: readonly Tool[] = ['choose', 'wall', 'room', 'block', 'privacy', 'camera', 'detector'];

export type Drag =
  | { kind: 'device'; id: string; at: At }
  | { kind: 'turn'; id: string; bearing: number }
  | { kind: 'line'; id: string; points: At[] }
  | { kind: 'rectangle'; from: At; to: At };

export class Hand {
  tool = $state<Tool>('choose');
  selected = $state<string | null>(null);
  drag = $state.raw<Drag | null>(null);
  drawn = $state.raw<At[]>([]); // corners of a wall that is being drawn
  cursor = $state.raw<At | null>(null); // where the next corner would be

  take(tool: Tool): void {
    this.tool = tool;
    this.drawn = [];
    this.drag = null;
  }
  deviceAt = (id: string, at: At): At => (this.drag?.kind === 'device' && this.drag.id === id ? this.drag.at : at);
  bearingOf = (id: string, bearing: number | null): number | null => (this.drag?.kind === 'turn' && this.drag.id === id ? this.drag.bearing : bearing);
  pointsOf = (id: string, points: At[]): At[] => (this.drag?.kind === 'line' && this.drag.id === id ? this.drag.points : points);
}
