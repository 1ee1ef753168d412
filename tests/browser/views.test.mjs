// What is typed, asked and shown belongs to what it was meant for, while others edit and answers come late.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { begin, editAsSomebody, end, newSite, person, saved, settled, shown, siteNow, until } from './page.mjs';

before(begin);
after(end);

const zones = async (site) => (await siteNow(site)).document.zones;
const cell = (page, name) => page.getByRole('gridcell', { name, exact: true });

test('what is typed in a table goes into its entry, though rows move under it', async () => {
  const site = await newSite();
  const { page, faults } = await person();
  await shown(page, site, 'tables/zones');
  await cell(page, 'Store').click();
  await page.keyboard.press('Enter');
  await page.keyboard.press('End');
  await page.keyboard.type(' of');
  const was = await zones(site);
  await editAsSomebody(site, [{ op: 'add', path: '/zones/z1/number', value: 90 }, { op: 'add', path: '/zones/z7/number', value: 91 }]);
  await page.locator('td[data-row="0"]', { hasText: was.z2.name }).waitFor();
  assert.equal(await page.locator('.editing').inputValue(), 'Store of');
  await page.keyboard.type(' glaze'); // the focus stays where the person types
  await page.keyboard.press('Enter');
  await saved(page);
  const is = await zones(site);
  assert.equal(is.z7.name, 'Store of glaze');
  for (const id of Object.keys(was)) if (id !== 'z7') assert.equal(is[id].name, was[id].name, id);
  assert.deepEqual(faults, []);
});

test('a list in a table is walked through by arrows, and stored by Enter; Escape leaves it as it was', async () => {
  const site = await newSite();
  const { page, faults } = await person();
  await shown(page, site, 'tables/zones');
  const { document } = await siteNow(site);
  const column = await page.locator('th', { hasText: /^type$/i }).evaluate((th) => th.cellIndex - 1);
  const row = await page.locator('td[data-row]', { hasText: /^Store$/ }).getAttribute('data-row');
  const place = page.locator(`td[data-row="${row}"][data-column="${column}"]`);
  for (const [last, changes] of [['Escape', false], ['Enter', true]]) {
    await place.click();
    await page.keyboard.press('Enter');
    await place.locator('select').waitFor();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowDown');
    await page.waitForTimeout(300);
    assert.equal(await place.locator('select').count(), 1, 'the list is still open');
    assert.equal((await zones(site)).z7.type, document.zones.z7.type);
    await page.keyboard.press(last);
    await place.locator('select').waitFor({ state: 'detached' });
    if (changes) await until(async () => (await zones(site)).z7.type !== document.zones.z7.type, 'the word is stored');
  }
  assert.equal((await siteNow(site)).document.revision, document.revision + 1);
  assert.deepEqual(faults, []);
});

test('a late answer about one revision is not shown under another', async () => {
  const site = await newSite();
  await editAsSomebody(site, [{ op: 'replace', path: '/zones/z7/name', value: 'Second' }]);
  await editAsSomebody(site, [{ op: 'replace', path: '/zones/z7/name', value: 'Third' }]);
  const { page, faults } = await person();
  let answer;
  const held = new Promise((go) => (answer = go));
  await page.route(/\/revisions\/3$/, async (route) => {
    await held;
    await route.continue();
  });
  await shown(page, site, 'revisions');
  await page.getByRole('button', { name: '3', exact: true }).click();
  await page.getByRole('button', { name: '2', exact: true }).click();
  await page.getByText('Store → Second').waitFor();
  const arrived = page.waitForResponse(/\/revisions\/3$/);
  answer();
  await arrived;
  await page.waitForTimeout(2000); // it would ask for the one before it and show the difference
  assert.equal(await page.getByText('Second → Third').count(), 0);
  assert.equal(await page.getByText('Store → Second').count(), 1);
  assert.deepEqual(faults, []);
});

test('a held arrow moves a camera at once and is one edit', async () => {
  const site = await newSite();
  const { page, faults } = await person({ height: 1000 });
  await shown(page, site, 'plan?show=c_store');
  await settled(page);
  const before = (await siteNow(site)).document;
  await page.getByRole('button', { name: 'Camera Store camera' }).focus();
  for (let i = 0; i < 12; ++i) await page.keyboard.down('ArrowLeft'); // repeats, as of a key that is held
  await page.keyboard.up('ArrowLeft');
  await saved(page);
  await until(async () => (await siteNow(site)).document.revision > before.revision, 'the camera is moved');
  await page.waitForTimeout(1000);
  const { document } = await siteNow(site);
  const x = (mount) => mount.x_m.value ?? mount.x_m;
  assert.equal(document.revision, before.revision + 1);
  assert.ok(Math.abs(x(before.cameras.c_store.mount) - x(document.cameras.c_store.mount) - 1.2) < 0.051, 'twelve steps of 0.1 m');
  assert.deepEqual(faults, []);
});

test('another language is another answer, without an edit and without loading anew', async () => {
  const site = await newSite();
  const { page, faults } = await person();
  await shown(page, site, 'supply');
  await settled(page);
  const asked = [];
  page.on('request', (request) => { if (request.url().endsWith('/ask')) asked.push(`${request.headers()['accept-language']} ${request.postDataJSON().command}`); });
  await page.getByText('Display', { exact: true }).click();
  await page.getByLabel('Language').selectOption('Deutsch');
  await until(async () => asked.includes('de supply') && asked.includes('de prove'), `sheet and proof are asked in German: ${asked}`);
  await settled(page);
  assert.deepEqual(faults, []);
});

test('an answer about a state that the page has not seen is not called one of its own, and the page catches up', async () => {
  const site = await newSite();
  const { page, faults } = await person();
  await page.route(/\/live$/, (route) => route.abort()); // nothing tells of what others do
  await shown(page, site, 'board');
  await saved(page);
  await settled(page);
  await editAsSomebody(site, [{ op: 'replace', path: '/zones/z7/name', value: 'Unseen' }]);
  await page.goto(`${page.url().split('#')[0]}#/s/${site}/supply`);
  await page.locator('footer', { hasText: 'Revision 2' }).waitFor();
  await page.getByText('Of revision 2', { exact: true }).waitFor();
  assert.deepEqual(faults, []);
});

test('lengths on the plan and off a number are in feet where a person reads feet', async () => {
  const site = await newSite();
  const { page, faults } = await person({ height: 1000 });
  const [id] = Object.entries((await siteNow(site)).document.cables)[0];
  await shown(page, site, `edit?at=/cables/${id}/length_m`);
  await page.getByText('Display', { exact: true }).click();
  await page.locator('footer select', { has: page.locator('option[value=imperial]') }).selectOption('imperial');
  await page.getByText('Display', { exact: true }).click();
  const field = page.locator('.field', { has: page.locator(`[id="f-cables-${id}-length_m"]`) });
  await field.locator('summary').click();
  await field.getByLabel('It may be off by').selectOption('sides');
  const [less, more] = [field.getByLabel(/^− \(ft\)/), field.getByLabel(/^\+ \(ft\)/)];
  await less.fill('much');
  await less.press('Tab');
  await field.getByText('This is no number.').waitFor();
  await less.fill('1');
  await more.fill('2');
  await more.press('Tab');
  await until(async () => (await siteNow(site)).document.cables[id].length_m.plus !== undefined, 'the tolerance is stored');
  const { plus, minus } = (await siteNow(site)).document.cables[id].length_m;
  assert.deepEqual([minus, plus], [0.3048, 0.6096]);
  await shown(page, site, 'plan');
  await page.getByRole('button', { name: 'Wall', exact: true }).click();
  await page.locator('svg[role=application]').hover();
  assert.match(await page.locator('.cursor text').textContent(), / ft$/);
  assert.deepEqual(faults, []);
});
