// After one load everything that was looked at is read without a server, and the page itself comes without one.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { at, begin, end, newSite, person, shown, siteNow, until } from './page.mjs';

before(begin);
after(end);

test('chains, evidence, tables and drawings are read without a server after one load; edits join later', async () => {
  const site = await newSite();
  const { context, page, faults } = await person({ width: 390, height: 844, touch: true });
  await shown(page, site, 'board');
  await page.locator('li.chain').first().waitFor();
  await page.evaluate(() => navigator.serviceWorker.ready);
  await until(() => page.evaluate(async () => (await caches.keys()).some((name) => name.startsWith('page-'))), 'the page is kept');
  await page.locator('footer', { hasText: 'kept for reading without a network' }).waitFor({ timeout: 120_000 });

  await context.setOffline(true);
  await page.goto(at(site, 'board'));
  await page.reload();
  await page.locator('li.chain').first().waitFor();
  await page.getByText('The server cannot be reached').waitFor();
  await page.goto(at(site, 'zone/z7/view'));
  await page.getByText('90 % is shown by Store camera').first().waitFor();
  await page.locator('figure svg').nth(1).waitFor(); // the plan and the expected picture
  await page.goto(at(site, 'zone/z5/trigger'));
  await page.locator('figure svg .marked').first().waitFor({ state: 'attached' }); // on the unit's second sheet
  await page.goto(at(site, 'wiring'));
  await page.locator('.room svg').waitFor();
  await page.goto(at(site, 'clip/z4'));
  await page.getByText('the operator sees the first picture').waitFor();
  await page.goto(at(site, 'tables/terminations'));
  await page.getByRole('gridcell', { name: 'Store', exact: true }).waitFor();
  await page.goto(at(site, 'edit?at=/zones/z7/name'));
  const entry = page.getByLabel('Name', { exact: true }).first();
  await entry.fill('Written in the cellar');
  await entry.press('Tab');
  await page.locator('footer', { hasText: '1 edits kept on this device' }).waitFor();
  await page.reload();
  await page.locator('main h1', { hasText: 'Written in the cellar' }).waitFor();

  await context.setOffline(false);
  await until(async () => (await siteNow(site)).document.zones.z7.name === 'Written in the cellar', 'the edit arrives', 40_000);
  assert.deepEqual(faults, []);
});

test('the list of sites without a server is what this device keeps', async () => {
  const site = await newSite();
  const { context, page } = await person();
  await shown(page, site, 'board');
  await page.locator('li.chain').first().waitFor();
  await page.evaluate(() => navigator.serviceWorker.ready);
  await until(() => page.evaluate(async () => (await caches.keys()).some((name) => name.startsWith('page-'))), 'the page is kept');
  await context.setOffline(true);
  await page.goto(at(site, 'board').replace(/#.*/, '#/'));
  await page.reload();
  await page.getByText('these are kept on this device').waitFor();
  await page.getByRole('link', { name: 'Kiln Yard Pottery' }).first().waitFor();
});

test('a language that was never spoken here explains fields without a server', async () => {
  const site = await newSite();
  const { context, page, faults } = await person();
  await shown(page, site, 'edit?at=/zones/z7/loop/eol_ohm');
  await page.getByText('The end-of-line resistor.', { exact: true }).waitFor();
  await page.evaluate(() => navigator.serviceWorker.ready);
  await until(() => page.evaluate(async () => (await caches.keys()).some((name) => name.startsWith('page-'))), 'the page is kept');
  await page.reload(); // what the worker keeps counts from here on
  await page.getByText('The end-of-line resistor.', { exact: true }).waitFor();
  await context.setOffline(true);
  await page.getByText('Display', { exact: true }).click();
  await page.getByLabel('Language').selectOption('Deutsch');
  await page.getByText('Der Abschlusswiderstand.', { exact: true }).waitFor();
  assert.deepEqual(faults, []);
});
