// Reads a DXF beside the page (files.ts).
import { DxfFault, readDxf, type Drawing, type FaultOfDxf } from './dxf';

export type SaidByReader = { drawing: Drawing } | { fault: FaultOfDxf; detail: string };

addEventListener('message', ({ data }: MessageEvent<Uint8Array>) => {
  const say = (said: SaidByReader) => postMessage(said);
  try {
    const drawing = readDxf(data);
    say(drawing.layers.length > 0 ? { drawing } : { fault: 'nothing', detail: drawing.skipped.map(({ count, kind }) => `${count} ${kind}`).join(', ') });
  } catch (fault) {
    say(fault instanceof DxfFault ? { fault: fault.fault, detail: fault.detail } : { fault: 'malformed', detail: String(fault).slice(0, 160) });
  }
});
