// Where names of devices stand on the plan: beside their symbol, over no other symbol or name. A name without room is left
// out; it is in the list beside the plan and comes when the plan is nearer.
export interface Named {
  id: string;
  name: string;
  x: number; // of the symbol, in pixels
  y: number;
}
export interface Label {
  id: string;
  name: string;
  dx: number; // from the symbol
  dy: number;
}
export interface Box {
  left: number;
  top: number;
  right: number;
  low: number;
}

const kLetter = 6.7; // mean width of a letter at 12 px; names are measured no better than that
const kAbove = 10;
const kBelow = 4;
const kSymbol = 9;

const meet = (a: Box, b: Box) => a.left < b.right && b.left < a.right && a.top < b.low && b.top < a.low;
const holds = (a: Box, b: Box) => a.left <= b.left && b.right <= a.right && a.top <= b.top && b.low <= a.low;

export function labelled(devices: readonly Named[], taken: readonly { x: number; y: number }[] = [], seen: Box | null = null): Label[] {
  const symbol = ({ x, y }: { x: number; y: number }): Box => ({ left: x - kSymbol, right: x + kSymbol, top: y - kSymbol, low: y + kSymbol });
  const boxes = [...devices, ...taken].map(symbol);
  const labels: Label[] = [];
  for (const { id, name, x, y } of devices) {
    const wide = name.length * kLetter;
    const places = [[13, -8], [13, 17], [-13 - wide, -8], [-13 - wide, 17], [14, 4], [-14 - wide, 4], [-wide / 2, -14], [-wide / 2, 24], [13, -24], [13, 32]];
    for (const [dx, dy] of places as [number, number][]) {
      const box = { left: x + dx, right: x + dx + wide, top: y + dy - kAbove, low: y + dy + kBelow };
      if (boxes.some((one) => meet(one, box)) || (seen && !holds(seen, box))) continue;
      boxes.push(box);
      labels.push({ id, name, dx, dy });
      break;
    }
  }
  return labels;
}
