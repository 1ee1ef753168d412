// What part of a sheet is looked at, in the sheet's own millimetres.
export interface ViewBox {
  x: number;
  y: number;
  width: number;
  height: number;
}
const kNearest = 24; // times nearer than the whole

/** Nearer or farther about a place of the view (shares of its sides); never farther than the whole, never beside it. */
export function zoomed(view: ViewBox, whole: ViewBox, factor: number, at: { x: number; y: number }): ViewBox {
  const width = Math.min(whole.width, Math.max(whole.width / kNearest, view.width / factor));
  const height = (width / whole.width) * whole.height;
  return inside({ x: view.x + (view.width - width) * at.x, y: view.y + (view.height - height) * at.y, width, height }, whole);
}
export function moved(view: ViewBox, whole: ViewBox, dx: number, dy: number): ViewBox {
  return inside({ ...view, x: view.x + dx, y: view.y + dy }, whole);
}
function inside(view: ViewBox, whole: ViewBox): ViewBox {
  const clamp = (value: number, low: number, room: number) => Math.max(low, Math.min(low + room, value));
  return { ...view, x: clamp(view.x, whole.x, whole.width - view.width), y: clamp(view.y, whole.y, whole.height - view.height) };
}
export const written = ({ x, y, width, height }: ViewBox) => `${x} ${y} ${width} ${height}`;
