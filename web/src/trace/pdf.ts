// Pages of a PDF as pictures. The library is loaded when the first PDF is chosen, and reads in a worker of its own; nothing in a
// file is run: no scripts, no fonts into the page, glyphs are drawn as lines.
import { getDocument, GlobalWorkerOptions, type PDFDocumentProxy } from 'pdfjs-dist';
import workerAddress from 'pdfjs-dist/build/pdf.worker.min.mjs?url';
import { CannotTrace, type Pages, type TracePicture } from './files';

GlobalWorkerOptions.workerSrc = workerAddress;
const kLongest_px = 4200; // an A1 sheet at 127 dpi: hair lines stay lines

export async function openPdf(bytes: Uint8Array): Promise<Pages> {
  const opening = getDocument({ data: bytes, isEvalSupported: false, disableFontFace: true, useSystemFonts: false, enableXfa: false, stopAtErrors: false, verbosity: 0 });
  let pdf: PDFDocumentProxy;
  try {
    pdf = await opening.promise;
  } catch (fault) {
    void opening.destroy();
    throw new CannotTrace((fault as Error).name === 'PasswordException' ? 'locked' : 'no_pdf');
  }
  return { count: pdf.numPages, picture: (page) => drawn(pdf, page), close: () => void opening.destroy() };
}

async function drawn(pdf: PDFDocumentProxy, number: number): Promise<TracePicture> {
  const canvas = document.createElement('canvas');
  try {
    const page = await pdf.getPage(number);
    const own = page.getViewport({ scale: 1 });
    const viewport = page.getViewport({ scale: kLongest_px / Math.max(own.width, own.height) });
    canvas.width = Math.ceil(viewport.width);
    canvas.height = Math.ceil(viewport.height);
    await page.render({ canvasContext: canvas.getContext('2d')!, viewport, background: '#ffffff' }).promise;
  } catch {
    throw new CannotTrace('no_pdf');
  }
  const bytes = await new Promise<Blob | null>((made) => canvas.toBlob(made, 'image/png'));
  if (!bytes) throw new CannotTrace('no_pdf');
  return { bytes, width: canvas.width, height: canvas.height };
}
