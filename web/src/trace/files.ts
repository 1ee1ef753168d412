// A file that somebody chose to trace: what it is by its first bytes, not by its name; pictures and pages of a PDF as a picture
// of a size that a plan needs.
import type { Drawing, FaultOfDxf } from './dxf';
import type { SaidByReader } from './dxf_worker';

export type TraceFault = 'unknown' | 'too_large' | 'no_picture' | 'no_pdf' | 'locked' | 'too_long' | Exclude<FaultOfDxf, 'not_dxf'>;
export class CannotTrace extends Error {
  constructor(
    readonly fault: TraceFault,
    readonly detail = '',
  ) {
    super(fault);
  }
}
export interface TracePicture {
  bytes: Blob;
  width: number;
  height: number;
}
export interface Pages {
  count: number;
  /** A page as a picture. */
  picture(page: number): Promise<TracePicture>;
  close(): void;
}
export type Chosen = { kind: 'picture'; picture: TracePicture } | { kind: 'pages'; pages: Pages } | { kind: 'drawing'; drawing: Drawing };

const kMostBytes = 64 * 2 ** 20;
const kMostOfPicture = 32 * 2 ** 20; // what the server keeps in one file
const kMostPixels = 120e6;
const kReading_ms = 30_000;

const begins = (bytes: Uint8Array, ...codes: number[]) => codes.every((code, i) => bytes[i] === code);
export function kindOf(bytes: Uint8Array): 'picture' | 'pdf' | 'other' {
  if (begins(bytes, 0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a) || begins(bytes, 0xff, 0xd8, 0xff)) return 'picture'; // PNG; JPEG
  // "%PDF-" may stand behind other bytes, in the first 1024 (ISO 32000-1, implementation notes).
  return new TextDecoder('latin1').decode(bytes.subarray(0, 1024)).includes('%PDF-') ? 'pdf' : 'other';
}

export async function chosen(file: File): Promise<Chosen> {
  if (file.size > kMostBytes) throw new CannotTrace('too_large', '64 MB');
  const bytes = new Uint8Array(await file.arrayBuffer());
  const kind = kindOf(bytes);
  if (kind === 'picture') return { kind, picture: await pictureIn(file) };
  if (kind === 'pdf') return { kind: 'pages', pages: await (await import('./pdf')).openPdf(bytes) };
  return { kind: 'drawing', drawing: await readInWorker(bytes) };
}

async function pictureIn(file: Blob): Promise<TracePicture> {
  if (file.size > kMostOfPicture) throw new CannotTrace('too_large', '32 MB');
  const seen = await createImageBitmap(file).catch(() => null);
  if (!seen) throw new CannotTrace('no_picture');
  const { width, height } = seen;
  seen.close();
  if (width * height > kMostPixels) throw new CannotTrace('too_large', `${kMostPixels / 1e6} Mpx`);
  return { bytes: file, width, height };
}

/** Read beside the page, which stays awake; a file that keeps the reader busy for too long is given up. */
function readInWorker(bytes: Uint8Array): Promise<Drawing> {
  const worker = new Worker(new URL('./dxf_worker.ts', import.meta.url), { type: 'module' });
  return new Promise<Drawing>((resolve, reject) => {
    const timer = setTimeout(() => reject(new CannotTrace('too_long', String(kReading_ms / 1000))), kReading_ms);
    const over = (fault: unknown) => {
      clearTimeout(timer);
      reject(fault);
    };
    worker.addEventListener('error', () => over(new CannotTrace('malformed')));
    worker.addEventListener('message', ({ data }: MessageEvent<SaidByReader>) => {
      if ('fault' in data) return over(new CannotTrace(data.fault === 'not_dxf' ? 'unknown' : data.fault, data.detail));
      clearTimeout(timer);
      resolve(data.drawing);
    });
    worker.postMessage(bytes, [bytes.buffer]);
  }).finally(() => worker.terminate());
}
