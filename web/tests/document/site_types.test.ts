import { execFileSync } from 'node:child_process';
import { expect, test } from 'vitest';

test('the types of the site file are those of its schema', () => {
  const script = new URL('../../tools/site_types.mjs', import.meta.url);
  expect(() => execFileSync(process.execPath, [script.pathname, '--check'], { stdio: 'pipe' })).not.toThrow();
});
