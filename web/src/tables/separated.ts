// Tables as text: what a spreadsheet puts on the clipboard (tabs, cells in quotation marks where they hold a line end),
// and CSV after RFC 4180 for export.

export function readPasted(text: string): string[][] {
  const rows: string[][] = [[]];
  let cell = '';
  let quoted = false;
  const end = () => {
    rows.at(-1)!.push(cell);
    cell = '';
  };
  const all = text.replace(/\r\n?/g, '\n').replace(/\n$/, '');
  for (let i = 0; i < all.length; ++i) {
    const letter = all[i]!;
    if (quoted) {
      if (letter !== '"') cell += letter;
      else if (all[i + 1] === '"') cell += all[(i += 1)]!;
      else quoted = false;
    } else if (letter === '"' && cell === '') quoted = true;
    else if (letter === '\t') end();
    else if (letter === '\n') {
      end();
      rows.push([]);
    } else cell += letter;
  }
  end();
  return rows;
}

/** A cell that a spreadsheet would take for a formula gets an apostrophe: an export must not run anything. */
const harmless = (cell: string) => (/^[=@\t\r]|^[+-](?![\d.,]+$)/.test(cell) ? `'${cell}` : cell);
export function csv(rows: readonly string[][]): string {
  const written = (cell: string) => (/[",\n\r]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
  return rows.map((row) => row.map((cell) => written(harmless(cell))).join(',')).join('\r\n') + '\r\n';
}
