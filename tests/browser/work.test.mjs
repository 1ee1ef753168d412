// Wiring under the pointer, the handover file, parts of the shelf, and how things are shown.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { begin, end, newSite, person, saved, send, shown, siteNow, until } from './page.mjs';

before(begin);
after(end);

/** Volts as the page writes them, of what the program answers for zone 2 at rest beside a working unit. */
async function volts(site, condition) {
  const { results } = await (await send('POST', `/api/sites/${site}/ask`, { command: 'levels', condition })).json();
  const level = results.levels.find((one) => one.zone === 'z2' && one.state === 'rest' && one.unit === 'powered');
  const written = (value) => `${Number(value.toPrecision(3))} V`;
  return [level.panel, level.unit_input].map((side) => `${written(side.low_V)} … ${written(side.high_V)}`);
}

test('pointing at a zone on the wiring tells its volts in the chosen supply and state, and what is fed its amperes', async () => {
  const site = await newSite();
  const { page, faults } = await person();
  await shown(page, site, 'wiring?of=unit');
  await page.locator('.room svg [id="panel-z2-outline"]').hover();
  const read = async () => (await page.locator('.reading-side dl dd').allInnerTexts()).map((text) => text.replaceAll('\u00a0', ' '));
  const onMains = await volts(site, 'mains');
  const onCutoff = await volts(site, 'battery_cutoff');
  // The panel feeds its loops from a supply of its own that does not sag; beside the unit's negative the battery shows.
  assert.notDeepEqual(onCutoff, onMains);
  await until(async () => (await read()).join() === onMains.join(), `${onMains} on mains`);
  await page.locator('.room svg [id="panel-z2-outline"]').click();
  await page.getByRole('slider').fill('4');
  await until(async () => (await read()).join() === onCutoff.join(), `${onCutoff} at the end of the battery`);
  await page.getByLabel('State of the zone').selectOption('alarm_d_shop_alarm');
  await until(async () => (await read()).join() !== onCutoff.join(), 'another state, other volts');
  await page.locator('.reading-side').getByRole('link', { name: 'Evidence' }).click();
  await page.locator('main h1', { hasText: '2 Shop' }).waitFor();
  await shown(page, site, 'wiring?of=unit');
  await page.locator('.room svg [id="area-unit"], .room svg [id^="unit"]').first().hover();
  await page.locator('.reading-side').getByText(/takes \d+\smA, at most \d+\smA/).waitFor();
  assert.deepEqual(faults, []);
});

test('a drawing comes nearer and moves by keys, and goes back to the whole', async () => {
  const site = await newSite();
  const { page } = await person();
  await shown(page, site, 'wiring');
  const drawing = page.locator('.room svg').first();
  await drawing.waitFor();
  const whole = await drawing.getAttribute('viewBox');
  await page.locator('.room').focus();
  await page.keyboard.press('+');
  const near = await drawing.getAttribute('viewBox');
  assert.ok(Number(near.split(' ')[2]) < Number(whole.split(' ')[2]));
  await page.keyboard.press('ArrowRight');
  assert.notEqual(await drawing.getAttribute('viewBox'), near);
  await page.keyboard.press('0');
  assert.equal(await drawing.getAttribute('viewBox'), whole);
});

test('the handover file is made while editing goes on, and fetched', async () => {
  const site = await newSite();
  const { page, faults } = await person();
  await shown(page, site, 'handover');
  await page.getByRole('button', { name: /Make the handover file of revision 1/ }).click();
  await page.getByText('You can go on editing.').waitFor();
  const [download] = await Promise.all([
    page.waitForEvent('download', { timeout: 120_000 }),
    page.getByRole('link', { name: /handover\.(pdf|zip)/ }).first().click({ timeout: 120_000 }),
  ]);
  assert.match(download.suggestedFilename(), /^handover\.(pdf|zip)$/);
  assert.deepEqual(faults, []);
});

test('work is stopped', async () => {
  const site = await newSite();
  const { page } = await person();
  await shown(page, site, 'handover');
  await page.getByRole('button', { name: /Make the handover file/ }).click();
  await page.getByRole('button', { name: 'Stop' }).click();
  await page.getByText('Stopped.').waitFor();
});

test('a part of the shelf is taken into the site, and offered where it fits', async () => {
  const site = await newSite();
  const { page, faults } = await person();
  await shown(page, site, 'parts?kind=battery');
  await page.getByLabel('Seek').fill('38 Ah');
  await page.getByRole('link', { name: /38 Ah/ }).first().click();
  await page.getByRole('button', { name: 'Take into this site' }).click();
  await saved(page);
  const { document } = await siteNow(site);
  assert.ok(Object.values(document.parts).some((part) => /38 Ah/.test(part.name)));
  assert.deepEqual(faults, []);
});

test('language, feet and ink are chosen at the foot, and stay', async () => {
  const site = await newSite();
  const { page, faults } = await person();
  await shown(page, site, 'edit?at=/cameras/c_store/mount/x_m');
  await page.getByText('Display').click();
  const chosen = page.locator('footer .choices select'); // language, lengths, ink
  await chosen.nth(1).selectOption('imperial');
  const entry = page.locator('[id="f-cameras-c_store-mount-x_m"]');
  assert.equal(Number(await entry.inputValue()).toFixed(2), (14.15 / 0.3048).toFixed(2));
  await chosen.nth(2).selectOption('dark');
  await chosen.nth(0).selectOption('de');
  await page.reload();
  await page.getByRole('link', { name: 'Ketten' }).waitFor();
  assert.equal(await page.evaluate(() => document.documentElement.dataset.ink), 'dark');
  assert.equal(await page.evaluate(() => document.documentElement.lang), 'de');
  await entry.fill('10 ft');
  await entry.press('Tab');
  await until(async () => {
    const { x_m } = (await siteNow(site)).document.cameras.c_store.mount;
    return Math.abs((typeof x_m === 'object' ? x_m.value : x_m) - 3.048) < 1e-6;
  }, 'ten feet are 3.048 m in the file');
  assert.deepEqual(faults, []);
});
