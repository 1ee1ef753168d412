// The engine in the page: edits are judged here, at once, and without the server. With the stand-in a double of the engine
// (web/tests/stand_in/engine.mjs); with a server that has none there is nothing to test.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { at, base, begin, end, newSite, person, shown, siteNow, until, withStandIn } from './page.mjs';

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

