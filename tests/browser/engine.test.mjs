// The engine in the page: edits are judged here, at once, and without the server. With the stand-in a double of the engine
// (web/tests/stand_in/engine.mjs); a program that was built without the engine skips its tests.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { at, base, begin, editAsSomebody, end, newSite, person, send, settled, shown, siteNow, until, withStandIn } from './page.mjs';

before(begin);
after(end);

const mood = (wanted) => fetch(`${base}/test/mood`, { method: 'POST', body: JSON.stringify(wanted) });

test('without the server an edit is judged on this device, whole, and says so; it joins when the server is back', { skip: !withStandIn }, async () => {
  const site = await newSite();
  const { page, faults } = await person();
  await shown(page, site, 'zone/z5/trigger');
  const links = page.locator('nav[aria-label="Links of the chain"]');
  await links.getByText('broken').first().waitFor();
  await page.goto(at(site, 'edit?at=/triggers/t5/setting/normal_max_V'));
  await page.getByRole('textbox', { name: /Normal up to/ }).waitFor();
  await mood({ away: true });
  try {
    // What the program proposes for zone 5: normal up to 2.9 V, without a lower limit.
    const write = async (name, text) => {
      const entry = page.getByRole('textbox', { name });
      await entry.fill(text);
      await entry.press('Tab');
    };
    await write(/Normal from/, 'none');
    await write(/Normal up to/, '2.9');
    await page.locator('footer', { hasText: 'kept on this device' }).waitFor();
    await page.goto(at(site, 'zone/z5/trigger'));
    await page.getByText('Judged on this device').waitFor({ timeout: 30_000 });
    await links.locator('a[aria-current]', { hasText: 'proven' }).waitFor({ timeout: 30_000 });
  } finally {
    await mood({ away: false });
  }
  await until(async () => (await siteNow(site)).document.triggers.t5.setting.normal_max_V === 2.9, 'the edits arrive', 60_000);
  await page.getByText('Judged on this device').waitFor({ state: 'detached', timeout: 30_000 });
  assert.deepEqual(faults, []);
});


// With the engine built (./run, or ./test webassembly), the page's own is held against the server: the same words in the same
// order, numbers to 1e-9 of their size and of their unit (docs/decisions/006-same-numbers-everywhere.md).
const demos = ['kiln-yard', 'tern-hollow', 'saltmarsh'];
const questions = [
  { command: 'check' },
  { command: 'prove' },
  { command: 'levels', zone: '2' },
  { command: 'supply' },
  { command: 'sight', zone: '3' },
];
const close = (a, b) => a === b || Math.abs(a - b) <= Math.max(1e-9 * Math.max(Math.abs(a), Math.abs(b)), 1e-9);

/** Where two answers differ, as readable lines. Of lines of the site's text an open session knows nothing after an edit. */
function differences(a, b, place = '') {
  if (typeof a === 'number' && typeof b === 'number') return close(a, b) ? [] : [`${place}: ${a} / ${b}`];
  if (a === null || b === null || typeof a !== 'object' || typeof b !== 'object') return a === b ? [] : [`${place}: ${JSON.stringify(a)} / ${JSON.stringify(b)}`];
  const keys = (one) => Object.keys(one).filter((key) => key !== 'line' && key !== 'column');
  if (keys(a).join() !== keys(b).join()) return [`${place}: ${keys(a)} / ${keys(b)}`];
  return keys(a).flatMap((key) => differences(a[key], b[key], `${place}/${key}`));
}

const engineThere = async () => (await fetch(`${base}/engine/zoneproof_engine.wasm`, { method: 'HEAD' })).ok;

test('on every demo site, as it is and after an edit, the engine in the page and the server answer alike', { timeout: 600_000 }, async (t) => {
  if (!(await engineThere())) return t.skip('the program was built without the engine');
  const { page, faults } = await person();
  await page.goto(`${base}/`);
  for (const demo of demos) {
    const site = await newSite(demo);
    for (const eol of [null, 4700]) {
      if (eol !== null) await editAsSomebody(site, [{ op: 'replace', path: '/zones/z2/loop/eol_ohm', value: eol }]);
      const { document } = await siteNow(site);
      const here = await page.evaluate(async ([text, asked]) => {
        const { loadEngine } = await import('/engine/engine.mjs');
        const { session } = (await loadEngine()).open(text, { name: 'site' });
        return asked.map((question) => session.ask(question).results);
      }, [JSON.stringify(document), questions]);
      for (const [i, question] of questions.entries()) {
        const there = await (await send('POST', `/api/sites/${site}/ask`, question)).json();
        assert.deepEqual(differences(here[i], there.results).slice(0, 10), [], `${demo}: ${JSON.stringify(question)}`);
      }
    }
  }
  assert.deepEqual(faults, []);
});

test('an edit made without a network is judged in the page as the server judges it afterwards', { timeout: 120_000 }, async (t) => {
  if (withStandIn || !(await engineThere())) return t.skip('the program was built without the engine');
  const site = await newSite();
  const { context, page, faults } = await person();
  await shown(page, site, 'zone/z5/trigger');
  await settled(page);
  const links = page.locator('nav[aria-label="Links of the chain"]');
  await links.getByText('broken').first().waitFor();
  // The worker loads the engine with the first edit; a page that is read offline has it from the service worker.
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await context.setOffline(true);
  await page.goto(at(site, 'edit?at=/triggers/t5/setting/normal_max_V'));
  for (const [name, text] of [[/Normal from/, 'none'], [/Normal up to/, '2.9']]) {
    const entry = page.getByRole('textbox', { name });
    await entry.fill(text);
    await entry.press('Tab');
  }
  await page.locator('footer', { hasText: 'kept on this device' }).waitFor();
  await page.goto(at(site, 'zone/z5/trigger'));
  await page.getByText('Judged on this device').waitFor({ timeout: 60_000 });
  await links.locator('a[aria-current]', { hasText: 'proven' }).waitFor({ timeout: 60_000 });
  const judgedHere = await links.innerText();
  await context.setOffline(false);
  await page.getByText('Judged on this device').waitFor({ state: 'detached', timeout: 60_000 });
  await settled(page);
  assert.equal(await links.innerText(), judgedHere);
  assert.deepEqual(faults, []);
});
