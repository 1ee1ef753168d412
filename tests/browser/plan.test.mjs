// The plan: what moves under the hand, drawing, and the same by keys.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { begin, end, newSite, person, saved, shown, siteNow, until } from './page.mjs';

before(begin);
after(end);

const plain = (value) => (typeof value === 'object' ? value.value : value);
const mount = async (site) => (await siteNow(site)).document.cameras.c_store.mount;
const camera = (page) => page.getByRole('button', { name: 'Camera Store camera' });
async function middle(page) {
  const box = await camera(page).locator('circle').first().boundingBox();
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}
async function ready(page, site) {
  await shown(page, site, 'plan?show=c_store');
  await page.locator('path.patch').first().waitFor({ timeout: 30_000 });
}

test('a camera follows the hand in every frame, its blind patches follow, and one edit is made at the end', async () => {
  const site = await newSite();
  const { page, faults } = await person();
  await ready(page, site);
  const patch = () => page.locator('path.patch').first().getAttribute('d');
  const before = await patch();
  await page.evaluate(() => {
    globalThis.frames = [];
    const take = (now) => { globalThis.frames.push(now); globalThis.taking = requestAnimationFrame(take); };
    requestAnimationFrame(take);
  });
  const from = await middle(page);
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  const kSteps = 60;
  for (let i = 1; i <= kSteps; ++i) {
    await page.mouse.move(from.x + i * 1.5, from.y - i);
    if (i % 10 !== 0) continue;
    await page.evaluate(() => new Promise((next) => requestAnimationFrame(() => requestAnimationFrame(next))));
    const now = await middle(page);
    assert.ok(Math.hypot(now.x - from.x - i * 1.5, now.y - from.y + i) < 4, `the wedge is where the hand is at step ${i}`);
  }
  const frames = await page.evaluate(() => { cancelAnimationFrame(globalThis.taking); return globalThis.frames; });
  const between = frames.slice(1).map((now, i) => now - frames[i]).sort((a, b) => a - b);
  const median = between[Math.floor(between.length / 2)];
  assert.ok(median < 17.5, `60 frames a second: median ${median} ms`);
  await until(async () => (await patch()) !== before, 'the blind patch follows while the hand is down');
  assert.equal((await siteNow(site)).document.revision, 1, 'nothing is kept while the hand is down');
  await page.mouse.up();
  await saved(page);
  const { document } = await siteNow(site);
  assert.equal(document.revision, 2);
  assert.ok(plain(document.cameras.c_store.mount.x_m) > 15);
  assert.deepEqual(faults, []);
});

test('a camera is turned by its handle and by keys, and moved by arrows', async () => {
  const site = await newSite();
  const { page, faults } = await person();
  await ready(page, site);
  await camera(page).focus();
  await page.keyboard.press('.');
  await until(async () => plain((await mount(site)).bearing_deg) === 50, 'turned by 5 degrees');
  await page.keyboard.press('ArrowRight');
  await until(async () => Math.abs(plain((await mount(site)).x_m) - 14.25) < 1e-6, 'moved by 0.1 m');
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  await until(async () => plain((await mount(site)).bearing_deg) === 45 && plain((await mount(site)).x_m) === 14.15, 'both undone');
  assert.deepEqual(faults, []);
});

test('a room and a wall are drawn by hand and by keys, and become walls of the file', async () => {
  const site = await newSite();
  const { page, faults } = await person();
  await ready(page, site);
  const walls = async () => Object.keys((await siteNow(site)).document.walls).length;
  const count = await walls();
  const box = await page.locator('svg[role=application]').boundingBox();
  await page.getByRole('button', { name: 'Room', exact: true }).click();
  await page.mouse.move(box.x + 20, box.y + 30);
  await page.mouse.down();
  await page.mouse.move(box.x + 70, box.y + 80, { steps: 5 });
  await page.mouse.up();
  await until(async () => (await walls()) === count + 1, 'the room is there');
  await page.getByRole('button', { name: 'Wall', exact: true }).click();
  await page.locator('svg[role=application]').focus();
  for (const key of ['ArrowRight', 'Enter', 'Shift+ArrowRight', 'Shift+ArrowRight', 'Enter', 'Enter']) await page.keyboard.press(key);
  await until(async () => (await walls()) === count + 2, 'the wall is there');
  const { document } = await siteNow(site);
  const drawn = Object.values(document.walls).at(-1);
  assert.ok(Object.values(document.walls).some((wall) => wall.path.length === 5 && wall.top_m === 'none' && wall.surface === 'solid'), 'four walls in one ring');
  assert.ok(drawn);
  assert.deepEqual(faults, []);
});

test('with a thumb: a camera is dragged at 390 px', async () => {
  const site = await newSite();
  const { context, page, faults } = await person({ width: 390, height: 844, touch: true });
  await ready(page, site);
  await camera(page).scrollIntoViewIfNeeded();
  const from = await middle(page);
  const finger = await context.newCDPSession(page);
  const touch = (type, x, y) => finger.send('Input.dispatchTouchEvent', { type, touchPoints: type === 'touchEnd' ? [] : [{ x, y }] });
  await touch('touchStart', from.x, from.y);
  for (let i = 1; i <= 10; ++i) await touch('touchMove', from.x + i * 3, from.y - i * 2);
  await touch('touchEnd');
  await until(async () => plain((await mount(site)).x_m) > 14.5, 'the camera has moved');
  assert.deepEqual(faults, []);
});
