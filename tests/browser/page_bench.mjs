// How fast page and server are, in figures (no test: the machine decides): node page_bench.mjs SITE..., with ZONEPROOF_PAGE as for
// the tests and files of generated sites (zoneproof_make_site). ZONEPROOF_SERVER, the number of the server's process, adds its
// memory. For each site: the chain board on screen, first and once more.
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { at, begin, end, person, send } from './page.mjs';

const kTimes = 5;
const kPatience_ms = 1_200_000;
const middle = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
const ms = (value) => `${value.toFixed(0)} ms`;

function memoryOfServer() {
  const process = globalThis.process.env.ZONEPROOF_SERVER;
  if (!process) return '';
  const status = readFileSync(`/proc/${process}/status`, 'utf8');
  const of = (name) => (Number(new RegExp(`${name}:\\s+(\\d+) kB`).exec(status)[1]) / 1024).toFixed(0);
  return `; server ${of('VmRSS')} MB, at most ${of('VmHWM')} MB`;
}

/** From the call of the page until the board has a row for every chain. */
async function boardShown(page, site, chains) {
  const begun = performance.now();
  await page.goto('about:blank');
  await page.goto(at(site, 'board'));
  await page.waitForFunction((count) => document.querySelectorAll('section[aria-labelledby=chains] li.chain').length === count, chains, { timeout: kPatience_ms });
  return performance.now() - begun;
}

await begin();
try {
  for (const file of globalThis.process.argv.slice(2)) {
    const text = readFileSync(file, 'utf8');
    const zones = Object.keys(JSON.parse(text).zones); // of a generated site all want a picture
    const made = await (await send('POST', '/api/sites', { text })).json();
    const { page } = await person();
    const first = await boardShown(page, made.id, zones.length);
    const again = [];
    for (let i = 0; i < kTimes; ++i) again.push(await boardShown(page, made.id, zones.length));
    const client = await page.context().newCDPSession(page);
    await client.send('HeapProfiler.collectGarbage');
    const { usedSize } = await client.send('Runtime.getHeapUsage');
    const memory = `page ${(usedSize / 1e6).toFixed(0)} MB of script${memoryOfServer()}`;
    console.log(`${basename(file)}: board first ${ms(first)}, again ${ms(middle(again))}; ${memory}`);
    await page.close();
  }
} finally {
  await end();
}
