// How a drag on the plan feels, in figures (no test: the machine decides): node drag_bench.mjs, with ZONEPROOF_PAGE as for the tests.
// Frames between pictures while the hand moves; from the moment that a place is asked about until its blind patches stand on the
// page. Of a camera of the demo and of one of its walls, for 5 s each.
import { begin, end, newSite, person, shown } from './page.mjs';

const kSeconds = 5;
const share = (sorted, part) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * part))];
const told = (values) => {
  const sorted = [...values].sort((a, b) => a - b);
  return `${values.length}: half within ${share(sorted, 0.5).toFixed(1)} ms, 95 % within ${share(sorted, 0.95).toFixed(1)} ms, longest ${sorted.at(-1).toFixed(1)} ms`;
};

async function watched(page) {
  await page.evaluate(() => {
    const seen = (globalThis.seen = { frames: [], follows: [], answers: [], asked: 0 });
    const take = (now) => { seen.frames.push(now); requestAnimationFrame(take); };
    requestAnimationFrame(take);
    const ask = globalThis.fetch;
    globalThis.fetch = async (...request) => {
      if (!String(request[0]).endsWith('/trial')) return ask(...request);
      const begun = performance.now();
      const response = await ask(...request);
      seen.answers.push(performance.now() - begun);
      seen.asked = begun; // the next change of the patches is of this question
      return response;
    };
    new MutationObserver((all) => {
      if (seen.asked === 0 || !all.some(({ target }) => target.matches?.('path.patch') || target.querySelector?.('path.patch'))) return;
      seen.follows.push(performance.now() - seen.asked);
      seen.asked = 0;
    }).observe(document.querySelector('svg[role=application]'), { subtree: true, attributes: true, childList: true, attributeFilter: ['d'] });
  });
}
async function dragged(page, name, from) {
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await watched(page);
  const begun = Date.now();
  for (let i = 0; Date.now() - begun < kSeconds * 1000; ++i) await page.mouse.move(from.x + 40 * Math.sin(i / 20), from.y + 25 * Math.sin(i / 13));
  const { frames, follows, answers } = await page.evaluate(() => globalThis.seen);
  await page.keyboard.press('Escape');
  await page.mouse.up();
  console.log(`${name}\n  frames ${told(frames.slice(1).map((now, i) => now - frames[i]))}\n  answers ${told(answers)}\n  patches on the page ${told(follows)}`);
}

await begin();
try {
  for (const thing of ['camera', 'wall']) {
    const { page } = await person({ height: 900 });
    const site = await newSite();
    await shown(page, site, 'plan?show=c_store');
    await page.locator('path.patch').first().waitFor({ timeout: 30_000 });
    await page.locator('footer', { hasText: 'kept for reading without a network' }).waitFor({ timeout: 120_000 }); // nothing else goes on
    if (thing === 'camera') {
      const box = await page.getByRole('button', { name: 'Camera Store camera' }).locator('circle').first().boundingBox();
      await dragged(page, 'a camera', { x: box.x + box.width / 2, y: box.y + box.height / 2 });
    } else {
      const wall = await page.locator('aside select option').evaluateAll((all) => all.map((one) => one.value).find((id) => document.querySelector(`path.wall[data-thing="${id}"]`)));
      await page.locator('aside select').first().selectOption(wall);
      const box = await page.locator('rect.corner').first().boundingBox();
      await dragged(page, `a corner of the wall ${wall}`, { x: box.x + box.width / 2, y: box.y + box.height / 2 });
    }
    await page.close();
  }
} finally {
  await end();
}
