// Every kind of action is undone by one key and done again by one: the site at the server is as it was, member for member.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { begin, end, newSite, person, saved, shown, siteNow, until } from './page.mjs';

before(begin);
after(end);

/** The site without what the program counts itself. */
async function content(site) {
  const { revision: _counted, ...rest } = (await siteNow(site)).document;
  return JSON.stringify(rest);
}
const onPlan = (page, x, y) =>
  page.locator('svg[role=application]').evaluate((svg, [east, north]) => {
    const at = new DOMPoint(east, -north).matrixTransform(svg.getScreenCTM());
    return { x: at.x, y: at.y };
  }, [x, y]);
async function drawn(page, tool, from, to) {
  await page.getByRole('button', { name: tool, exact: true }).click();
  const [a, b] = [await onPlan(page, ...from), await onPlan(page, ...to)];
  await page.mouse.move(a.x, a.y);
  await page.mouse.down();
  await page.mouse.move((a.x + b.x) / 2, (a.y + b.y) / 2);
  await page.mouse.move(b.x, b.y);
  await page.mouse.up();
}
async function dropped(page, tool, x, y) {
  await page.getByRole('button', { name: tool, exact: true }).click();
  const at = await onPlan(page, x, y);
  await page.mouse.click(at.x, at.y);
}
const camera = (page) => page.getByRole('button', { name: 'Camera Store camera' });
const leave = (page) => page.evaluate(() => document.activeElement?.blur?.());
const kActions = [
  ['a room', 'plan', (page) => drawn(page, 'Room', [2, -3], [4, -1])],
  ['a block', 'plan', (page) => drawn(page, 'Block', [5, -3], [6, -2])],
  ['a protected place', 'plan', (page) => drawn(page, 'Protected place', [7, -3], [8, -2])],
  ['a privacy area', 'plan', (page) => drawn(page, 'Privacy area', [9, -3], [10, -2])],
  ['a camera dropped', 'plan', (page) => dropped(page, 'Camera', 11, -2)],
  ['a detector dropped', 'plan', (page) => dropped(page, 'Detector', 12, -2)],
  ['a camera moved', 'plan?show=c_store', async (page) => { await camera(page).focus(); await page.keyboard.press('Shift+ArrowRight'); }],
  ['a camera turned', 'plan?show=c_store', async (page) => { await camera(page).focus(); await page.keyboard.press(','); }],
  ['a field', 'edit?at=/zones/z7/name', async (page) => { const entry = page.getByLabel('Name', { exact: true }).first(); await entry.fill('Cold store'); await entry.press('Tab'); }],
  ['none for a number', 'edit?at=/triggers/t5/setting/normal_min_V', (page) => page.locator('.field', { has: page.locator('[id="f-triggers-t5-setting-normal_min_V"]') }).getByRole('checkbox').check()],
  ['an entry inside a thing', 'edit?at=/cameras/c_store/streams', async (page) => {
    const streams = page.locator('details[open]', { has: page.locator('summary', { hasText: 'streams' }) });
    await streams.getByPlaceholder('Name of the new one').last().fill('second');
    await streams.getByRole('button', { name: 'Add' }).last().click();
  }],
  ['an entry of a table', 'tables/areas', async (page) => { await page.getByPlaceholder('Name of the new one').fill('Cellar'); await page.getByRole('button', { name: 'Add', exact: true }).click(); }],
  ['a thing taken out', 'edit?at=/privacy_areas/neighbour', null],
  ['a part taken', 'parts/battery_38ah', (page) => page.getByRole('button', { name: 'Take into this site' }).click()],
];

test('every kind of action is undone and done again', async () => {
  const site = await newSite();
  const { page, faults } = await person({ height: 1000 });
  const privacy = Object.keys((await siteNow(site)).document.privacy_areas)[0];
  for (const [what, screen, act] of kActions) {
    await shown(page, site, act === null ? `edit?at=/privacy_areas/${privacy}` : screen);
    const was = await content(site);
    if (act === null) await page.getByRole('button', { name: /^Take .* out$/ }).click();
    else await act(page);
    await until(async () => (await content(site)) !== was, `${what} reaches the server`);
    const is = await content(site);
    await leave(page);
    await page.keyboard.press('Control+z');
    await until(async () => (await content(site)) === was, `${what} is undone`);
    await page.keyboard.press('Control+y');
    await until(async () => (await content(site)) === is, `${what} is done again`);
    await saved(page);
  }
  assert.deepEqual(faults, []);
});

test('from the first page to a chain put right, by keys alone', async () => {
  const { page, faults } = await person();
  const name = () => page.evaluate(() => (document.activeElement?.getAttribute('aria-label') ?? document.activeElement?.textContent ?? '').trim().replace(/\s+/g, ' '));
  /** Tab until something of this name has the focus: as far as a person would go. */
  const tabTo = async (wanted, most = 120) => {
    for (let i = 0; i < most; ++i) {
      await page.keyboard.press('Tab');
      if (wanted.test(await name())) return;
    }
    assert.fail(`${wanted} is not reached by Tab`);
  };
  await shown(page, await newSite(), 'board'); // the page is there, and the focus nowhere
  await page.keyboard.press('Tab');
  await tabTo(/^All sites$/);
  await page.keyboard.press('Enter');
  await page.locator('main h1', { hasText: 'Does every alarm' }).waitFor();
  await tabTo(/^Kiln Yard Pottery$/);
  await tabTo(/^Kiln Yard Pottery$/, 40).catch(() => {});
  await page.keyboard.press('Enter');
  await page.locator('li.chain').first().waitFor({ timeout: 30_000 });
  const site = /\/s\/([^/]+)/.exec(page.url())[1];
  await page.locator('li.chain', { hasText: 'Roller door' }).getByRole('link', { name: /trigger/i }).focus();
  await page.keyboard.press('Enter');
  await tabTo(/^Try remedies$/);
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'Do it in the file' }).first().waitFor({ timeout: 60_000 });
  await tabTo(/^Do it in the file$/);
  await page.keyboard.press('Enter');
  await page.locator('nav[aria-label="Links of the chain"] a[aria-current]', { hasText: 'proven' }).waitFor({ timeout: 30_000 });
  await page.keyboard.press('Alt+2'); // the plan
  await page.locator('main h1', { hasText: 'Plan' }).waitFor();
  await tabTo(/^Camera Store camera$/);
  const before = (await siteNow(site)).document.cameras.c_store.mount.x_m;
  await page.keyboard.press('ArrowLeft');
  await until(async () => JSON.stringify((await siteNow(site)).document.cameras.c_store.mount.x_m) !== JSON.stringify(before), 'the camera is moved');
  assert.deepEqual(faults, []);
});
