// The plan from a drawing: a picture and a page of a PDF below it, brought to scale by a measured length; walls out of a DXF;
// files that are none of these. The DXF is written by ezdxf (web/tests/trace), the PDF by the browser's printer.
import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { after, before, test } from 'node:test';
import { base, begin, end, newSite, person, saved, shown, siteNow, until } from './page.mjs';

before(begin);
after(end);

const drawings = new URL('../../web/tests/trace/drawings/', import.meta.url);
const plain = (value) => (value !== null && typeof value === 'object' ? value.value : value);
const levelOf = async (site) => Object.entries((await siteNow(site)).document.levels)[0];
const picture = async (site) => (await levelOf(site))[1].picture;

async function atPlan(options) {
  const site = await newSite();
  const { page, faults, context } = await person(options);
  await shown(page, site, 'plan');
  await page.getByText('From a drawing').click();
  return { site, page, faults, context, choose: (name, mimeType, buffer) => page.locator('input[type=file]').setInputFiles({ name, mimeType, buffer }) };
}
/** A plan of 800 by 400 pixels, as somebody's camera or scanner would bring it. */
async function photograph(page, type) {
  const address = await page.evaluate((kind) => {
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = [800, 400];
    const pen = canvas.getContext('2d');
    pen.fillStyle = '#fff';
    pen.fillRect(0, 0, 800, 400);
    pen.strokeRect(80, 40, 640, 320);
    return canvas.toDataURL(kind);
  }, type);
  return Buffer.from(address.split(',')[1], 'base64');
}

test('a picture is laid below the plan, measured, shifted, and all of it undone', async () => {
  const { site, page, faults, choose } = await atPlan();
  const bytes = await photograph(page, 'image/jpeg');
  await choose('ground.jpg', 'image/jpeg', bytes);
  const below = page.locator('image.picture');
  await below.waitFor();
  await page.getByText('Not to scale yet').waitFor();
  await saved(page);
  const laid = await picture(site);
  assert.deepEqual([laid.name, laid.width_px, laid.height_px, laid.px_per_m], ['ground.jpg', 800, 400, undefined]);
  assert.equal(laid.sha256, createHash('sha256').update(bytes).digest('hex'), 'the book has the bytes as they were');
  const kept = await fetch(`${base}/api/files/${laid.sha256}`);
  assert.ok(Buffer.from(await kept.arrayBuffer()).equals(bytes));

  // The long wall of the picture goes from a tenth to nine tenths of its width; it is 8 m long, so the picture is 10 m wide.
  await page.getByRole('button', { name: 'Measure a length' }).click();
  await page.locator('svg[role=application]').scrollIntoViewIfNeeded();
  const box = await below.boundingBox();
  await page.mouse.click(box.x + box.width * 0.1, box.y + box.height * 0.5);
  await page.mouse.click(box.x + box.width * 0.9, box.y + box.height * 0.5);
  await page.getByLabel('Length in the building').fill('8');
  await page.getByRole('button', { name: 'Bring to scale' }).click();
  await page.getByText(/To scale: (10|9\.9\d|10\.0\d)\sm by/).waitFor();
  await saved(page);
  const scaled = await picture(site);
  assert.ok(Math.abs(800 / plain(scaled.px_per_m) - 10) < 0.08, `10 m wide: ${800 / plain(scaled.px_per_m)}`);
  assert.ok(Math.abs(plain(scaled.bearing_deg)) < 0.5);

  await page.getByRole('button', { name: 'Shift the picture' }).click();
  await page.locator('svg[role=application]').focus();
  await page.keyboard.press('Shift+ArrowRight');
  await until(async () => Math.abs(plain((await picture(site)).x_m) - plain(scaled.x_m) - 1) < 1e-6, 'shifted by a metre');
  for (let i = 0; i < 3; ++i) await page.keyboard.press('Control+z');
  await until(async () => (await picture(site)) === undefined, 'all of it is undone');
  await below.waitFor({ state: 'detached' });
  assert.deepEqual(faults, []);
});

test('a page of a PDF is chosen and lies below the plan', async () => {
  const { site, page, faults, context, choose } = await atPlan();
  const printer = await context.newPage();
  await printer.setContent('<p>Cover</p><div style="break-before: page; position: relative; height: 240mm"><div style="position: absolute; left: 0; top: 0; width: 45%; height: 100%; background: #000; print-color-adjust: exact"></div></div>');
  const pdf = await printer.pdf({ format: 'A4', printBackground: true });
  await printer.close();
  await choose('plans.pdf', 'application/pdf', pdf);
  await page.getByRole('combobox', { name: /^Page/ }).selectOption('2', { timeout: 30_000 });
  await page.getByRole('button', { name: 'Lay it below the plan' }).click();
  await page.locator('image.picture').waitFor({ timeout: 30_000 });
  await saved(page);
  const laid = await picture(site);
  assert.equal(laid.name, 'plans.pdf, page 2');
  assert.ok(Math.abs(laid.width_px / laid.height_px - 210 / 297) < 0.002, 'the shape of A4');
  const dark = await page.evaluate(async (address) => {
    const seen = await createImageBitmap(await (await fetch(address)).blob());
    const canvas = new OffscreenCanvas(20, 20);
    canvas.getContext('2d').drawImage(seen, 0, 0, 20, 20);
    const at = (x, y) => canvas.getContext('2d').getImageData(x, y, 1, 1).data[0] < 128;
    return [at(5, 8), at(15, 8)];
  }, `${base}/api/files/${laid.sha256}`);
  assert.deepEqual(dark, [true, false], 'the second page as it was printed: black to the left, white to the right');
  assert.deepEqual(faults, []);
});

test('walls come out of a DXF by layers, what was skipped is counted and said, and one undo takes them out', async () => {
  const { site, page, faults, choose } = await atPlan({ width: 390, height: 844, touch: true });
  const walls = async () => (await siteNow(site)).document.walls;
  const before = Object.keys(await walls()).length;
  await choose('flat.dxf', 'image/vnd.dxf', readFileSync(new URL('flat.dxf', drawings)));
  const off = page.getByRole('checkbox', { name: /OLD/ });
  await off.waitFor();
  assert.equal(await off.isChecked(), false, 'a layer that the file has switched off is not taken by itself');
  await page.getByRole('checkbox', { name: /DOORS/ }).uncheck();
  await page.getByText(/What is taken is 10\sm by 7\.5\sm/).waitFor();
  await page.getByText('5 TEXT: no line that could be a wall').waitFor();
  await page.getByText('1 INSERT: its block is not in the file').waitFor();
  await page.getByRole('textbox', { name: 'x' }).fill('30');
  const make = page.getByRole('button', { name: /^Draw \d+ walls$/ });
  const count = Number(/\d+/.exec(await make.innerText())[0]);
  await make.click();
  await until(async () => Object.keys(await walls()).length === before + count, 'the walls are there');
  const made = Object.values(await walls()).filter((wall) => wall.name?.startsWith('WALLS'));
  assert.equal(made.length, count);
  const xs = made.flatMap((wall) => wall.path.map((at) => at.x_m));
  assert.deepEqual([Math.min(...xs), Math.max(...xs)], [30, 40]);
  assert.ok(made.every((wall) => wall.surface === 'solid' && wall.level), 'they stand on the floor that is shown');
  await page.locator('main h1').click();
  await page.keyboard.press('Control+z');
  await until(async () => Object.keys(await walls()).length === before, 'one undo takes them all out');
  assert.deepEqual(faults, []);
});

test('a file that tells no unit is not guessed at, and files that are none of these get one clear message', async () => {
  const { page, faults, choose } = await atPlan();
  await choose('metres.dxf', '', readFileSync(new URL('metres.dxf', drawings)));
  const make = page.getByRole('button', { name: 'Draw walls' });
  await make.waitFor();
  assert.equal(await make.isDisabled(), true);
  await page.getByLabel('Unit of the file').selectOption('m');
  await page.getByRole('button', { name: 'Draw 1 walls' }).waitFor();
  const alert = page.getByRole('main').getByRole('alert');
  const png = await photograph(page, 'image/png');
  for (const [name, bytes, words] of [
    ['letter.txt', Buffer.from('Dear Sir,\nhere is the plan.\n'), 'letter.txt is none of PNG, JPEG, PDF and DXF'],
    ['half.dxf', readFileSync(new URL('flat.dxf', drawings)).subarray(0, 30_000), 'half.dxf begins like a DXF and is damaged'],
    ['half.pdf', Buffer.from('%PDF-1.7\n1 0 obj\n<< /Type /Catalog >>\n'), 'half.pdf begins like a PDF and cannot be shown'],
    ['half.png', png.subarray(0, 60), 'half.png begins like a picture and cannot be shown'],
    ['named.png', readFileSync(new URL('expected.json', drawings)), 'named.png is none of PNG, JPEG, PDF and DXF'],
    ['loop.dxf', Buffer.from(['0', 'SECTION', '2', 'ENTITIES', '0', 'POINT', '10', '1', '20', '2', '0', 'ENDSEC', '0', 'EOF', ''].join('\n')), 'loop.dxf has no lines that could be walls. In it: 1 POINT'],
  ]) {
    await choose(name, 'application/octet-stream', bytes);
    await alert.getByText(words).or(alert.filter({ hasText: words })).first().waitFor({ timeout: 20_000 });
    assert.equal(await alert.count(), 1, `one message for ${name}`);
  }
  assert.deepEqual(faults, []);
});

test('a PDF of several pages is closed with its sheet: its reader does not stay', async () => {
  const { site, page, faults, choose } = await atPlan();
  const printer = await page.context().newPage();
  await printer.setContent('<p>Ground floor</p><p style="break-before: page">First floor</p>');
  const pdf = await printer.pdf({ format: 'A4' });
  await printer.close();
  await choose('floors.pdf', 'application/pdf', pdf);
  await page.getByRole('button', { name: 'Lay it below the plan' }).waitFor();
  const readers = () => page.workers().filter((worker) => worker.url().includes('pdf')).length;
  assert.equal(readers(), 1);
  await shown(page, site, 'supply');
  await until(() => readers() === 0, 'the reader has ended', 10_000);
  assert.deepEqual(faults, []);
});
