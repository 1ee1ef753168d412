// How fast page and server are, in figures (no test: the machine decides): node page_bench.mjs SITE..., with ZONEPROOF_PAGE as for
// the tests and files of generated sites (zoneproof_make_site). ZONEPROOF_SERVER, the number of the server's process, adds its
// memory. For each site: the chain board on screen, first and once more, and one edit until its verdict stands there.
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { at, begin, end, person, saved, send } from './page.mjs';

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

/** An edit of a zone's resistor, taken back and made again by keys on the page of its loop: from the key to the new verdict. */
async function editsJudged(page, site, zone) {
  await page.goto(at(site, `edit?at=/zones/${zone}/loop/eol_ohm`));
  const entry = page.getByRole('textbox', { name: /EOL resistor/ }).first();
  await entry.waitFor({ timeout: kPatience_ms });
  await entry.fill('1k/1%');
  await entry.press('Tab');
  await page.goto(at(site, `zone/${zone}/loop`));
  const link = 'nav[aria-label="Links of the chain"] a[aria-current]';
  await page.locator(link, { hasText: 'broken' }).waitFor({ timeout: kPatience_ms });
  const times = [];
  for (let i = 0; i < 2 * kTimes; ++i) {
    times.push(await page.evaluate(([where, key]) => new Promise((done) => {
      const begun = performance.now(), before = document.querySelector(where).innerText;
      const look = () => (document.querySelector(where)?.innerText === before ? setTimeout(look, 1) : requestAnimationFrame(() => done(performance.now() - begun)));
      dispatchEvent(new KeyboardEvent('keydown', { key, ctrlKey: true, bubbles: true }));
      look();
    }), [link, i % 2 === 0 ? 'z' : 'y']));
    await saved(page);
  }
  return times;
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
    const edits = await editsJudged(page, made.id, zones[0]);
    console.log(`  an edit to its verdict ${ms(middle(edits))}, at most ${ms(Math.max(...edits))}`);
    await page.close();
  }
} finally {
  await end();
}
