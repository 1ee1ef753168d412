// What sheets say and do: the board and where it leads, a remedy done, a table and the register by keys, paper.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { at, begin, end, newSite, person, pictures, saved, shown, siteNow, until } from './page.mjs';

let site;
before(async () => {
  await begin();
  site = await newSite();
});
after(end);

test('the board tells the demo as the command does, the weakest first, and leads to where it is cured', async () => {
  const { page, faults } = await person();
  await shown(page, site, 'board');
  const rows = page.locator('li.chain');
  await rows.first().waitFor();
  assert.equal(await rows.count(), 8);
  assert.match(await rows.first().innerText(), /Roller door/);
  await page.getByRole('link', { name: /trigger/i }).first().click();
  await page.getByText('it has to be between 5.1 V and 6.9 V').first().waitFor();
  await page.getByRole('link', { name: '5 Roller door (t5)' }).first().click();
  await page.getByRole('textbox', { name: /Normal up to/ }).waitFor();
  assert.deepEqual(faults, []);
});

test('a remedy that the program tried is done in the file with one key, and the chain is proven anew', async () => {
  const own = await newSite();
  const { page, faults } = await person();
  await shown(page, own, 'zone/z5/trigger');
  await page.getByRole('button', { name: 'Try remedies' }).click();
  await page.getByRole('button', { name: 'Do it in the file' }).first().click({ timeout: 60_000 });
  await saved(page);
  await page.locator('nav[aria-label="Links of the chain"] a[aria-current]', { hasText: 'proven' }).waitFor({ timeout: 30_000 });
  assert.deepEqual(faults, []);
});

test('a table by keys alone: move, type, choose, paste a block, undo it as one', async () => {
  const own = await newSite();
  const { context, page, faults } = await person();
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  await shown(page, own, 'tables/zones');
  await page.getByRole('gridcell', { name: 'Front door', exact: true }).focus();
  await page.keyboard.press('Enter');
  await page.keyboard.press('Control+a');
  await page.keyboard.type('Main door');
  await page.keyboard.press('Enter');
  await saved(page);
  assert.equal((await siteNow(own)).document.zones.z1.name, 'Main door');
  await page.evaluate(() => navigator.clipboard.writeText('One\nTwo\nThree\n'));
  await page.keyboard.press('Control+v'); // from the second row on: Enter has gone there
  await until(async () => (await siteNow(own)).document.zones.z4.name === 'Three', 'the block is pasted');
  const { document } = await siteNow(own);
  assert.deepEqual([document.zones.z2.name, document.zones.z3.name, document.revision], ['One', 'Two', 3]);
  await page.keyboard.press('Control+z');
  await until(async () => (await siteNow(own)).document.zones.z4.name === 'Workshop', 'the block is undone as one');
  assert.deepEqual(faults, []);
});

const german = JSON.parse(readFileSync(new URL('../../web/src/words/meanings_de.json', import.meta.url), 'utf8'));

test('a page in German explains every field and offers every choice in German, and one in English does not fetch that', async () => {
  const { page, faults } = await person();
  const fetched = [];
  page.on('request', (request) => fetched.push(request.url()));
  await shown(page, site, 'edit?at=/zones/z7/loop/eol_ohm');
  await page.getByText('The end-of-line resistor.', { exact: true }).waitFor();
  assert.ok(fetched.some((url) => url.includes('/assets/')) && !fetched.some((url) => url.includes('meanings')), fetched.join(' '));

  await page.getByText('Display', { exact: true }).click();
  await page.getByLabel('Language').selectOption('Deutsch');
  await page.getByText('Der Abschlusswiderstand.', { exact: true }).waitFor();
  await page.screenshot({ path: join(pictures, 'edit-german.png'), fullPage: true });
  const entry = page.getByLabel(/^Abschlusswiderstand \(/);
  assert.equal((await page.locator(`#${await entry.getAttribute('aria-describedby')}`).innerText()).trim(), 'Der Abschlusswiderstand.');
  const said = new Set(Object.values(german));
  for (const [place, what] of [['zones/z7', 'A zone of the panel.'], ['triggers/t5', 'The wire from one zone to one input of a unit, with what feeds it.'], ['cameras/c_store', 'A camera as it is mounted.']]) {
    await page.goto(at(site, `edit?at=/${place}`));
    await page.locator('header > p', { hasText: german[what] }).waitFor();
    const helps = await page.locator('header > p.quiet:not(.row), .field p.quiet, main details > p.quiet').evaluateAll((all) => all.map((one) => one.firstChild.textContent.trim()));
    assert.ok(helps.length > 10, `${place}: ${helps.length}`);
    assert.deepEqual(helps.filter((help) => !said.has(help)), [], place);
  }
  await page.goto(at(site, 'edit?at=/zones/z7'));
  assert.deepEqual(await page.getByLabel('Abschlusswiderstand sitzt').locator('option').allInnerTexts(), ['nicht bekannt', 'am Ende', 'in der Zentrale']);
  assert.deepEqual(faults, []);
});

test('every sheet is reached and the board read by keys alone', async () => {
  const { page } = await person();
  await shown(page, site, 'board');
  await page.locator('li.chain').first().waitFor();
  for (const [key, title] of [['2', 'Plan'], ['3', 'Wiring'], ['7', 'Tables'], ['1', 'Chains']]) {
    await page.keyboard.press(`Alt+${key}`);
    await page.locator('main h1', { hasText: title }).waitFor();
  }
  await page.locator('li.chain').first().waitFor();
  await page.evaluate(() => document.activeElement?.blur?.());
  const reached = new Set();
  for (let i = 0; i < 120; ++i) {
    await page.keyboard.press('Tab');
    reached.add(await page.evaluate(() => document.activeElement?.textContent?.trim().slice(0, 40) ?? ''));
  }
  for (const wanted of ['To the sheet', 'Chains', 'Revisions', 'Evidence', 'Display']) assert.ok(reached.has(wanted), wanted);
});

test('on paper there is the sheet and nothing to press', async () => {
  const { page } = await person();
  await shown(page, site, 'board');
  await page.locator('li.chain').first().waitFor();
  await page.emulateMedia({ media: 'print' });
  for (const button of await page.getByRole('button').all()) assert.equal(await button.isVisible(), false);
  assert.equal(await page.locator('nav').first().isVisible(), false);
  await page.screenshot({ path: join(pictures, 'board-print.png'), fullPage: true });
});
