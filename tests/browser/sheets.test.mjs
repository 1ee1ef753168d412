// Every sheet: its picture at three widths, light and dark, in both languages; axe; nothing wider than the page.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { after, before, describe, test } from 'node:test';
import { at, base, begin, end, newSite, person, pictures, settled } from './page.mjs';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const sheets = ['board', 'zone/z7/view', 'zone/z5/trigger', 'plan?show=c_store', 'wiring?of=unit', 'supply', 'clip/z4', 'network', 'tables/zones', 'tables/terminations', 'tables/materials', 'edit?at=/cameras/c_store/focal_mm', 'parts', 'parts/camera_2mp_2_8mm_ir20', 'handover', 'revisions'];
const kWcag = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
let site;

before(async () => {
  await begin();
  site = await newSite();
});
after(end);

/** What axe finds; it is run by the debugger, so that the page's policy stays as it is. */
async function found(page) {
  await page.evaluate(axe);
  const { violations } = await page.evaluate((tags) => globalThis.axe.run(document, { runOnly: tags }), kWcag);
  return violations.map((one) => `${one.id}: ${one.nodes.slice(0, 3).map((node) => `${node.target} ${node.failureSummary}`).join('; ')}`);
}

// Two at a time: one draws while the other is looked at.
describe('every sheet', { concurrency: 2 }, () => {
  for (const [width, dark, language] of [[390, false, 'de'], [390, true, 'en'], [1280, false, 'en'], [1280, true, 'de'], [2560, true, 'en']]) {
    test(`sheets at ${width} px, ${dark ? 'dark' : 'light'}, ${language}`, async () => {
      const { page, faults } = await person({ width, height: width < 500 ? 844 : 1000, dark, language, touch: width < 500 });
      const wrong = [];
      for (const sheet of ['', ...sheets]) {
        await page.goto(sheet === '' ? `${base}/#/` : at(site, sheet));
        await page.locator('main h1').first().waitFor();
        await settled(page);
        const beyond = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
        if (beyond > 0) wrong.push(`${sheet}: ${beyond} px wider than the page`);
        wrong.push(...(await found(page)).map((one) => `${sheet}: ${one}`));
        await page.screenshot({ path: join(pictures, `${sheet.replace(/\W+/g, '-') || 'start'}-${width}-${dark ? 'dark' : 'light'}-${language}.png`) });
      }
      assert.deepEqual(wrong, []);
      assert.deepEqual(faults, []);
    });
  }
});
