// Addresses of the page; those on labels are src/handover/labels.cpp: the site's address and the thing's place in its file.
import { expect, test } from 'vitest';
import { addressForCodes, hashOf, readRoute } from '../../src/frame/route.svelte';

const at = (hash: string) => {
  const { site, screen, rest, query } = readRoute(hash);
  return [site, screen, ...rest, query.toString()];
};

test('a screen is found again by its address', () => {
  expect(at(hashOf('kiln yard', 'zone', ['z7', 'trigger'], { at: '/zones/z7/loop' }))).toEqual(['kiln yard', 'zone', 'z7', 'trigger', 'at=%2Fzones%2Fz7%2Floop']);
  expect(at('')).toEqual([null, 'start', '']);
  expect(at('#/s/kiln_yard')).toEqual(['kiln_yard', 'board', '']);
});

test('a code on a label opens the zone, or the place where the unit or the camera is described', () => {
  const site = addressForCodes({ origin: 'https://192.0.2.10:8443', hostname: '192.0.2.10' }, 'kiln_yard');
  expect(site).toBe('https://192.0.2.10:8443/#/s/kiln_yard');
  const scanned = (place: string) => at(new URL(site + place).hash);
  expect(scanned('/zones/z7')).toEqual(['kiln_yard', 'zone', 'z7', '']);
  expect(scanned('/units/u1')).toEqual(['kiln_yard', 'edit', 'at=%2Funits%2Fu1']);
  expect(scanned('/cameras/c2')).toEqual(['kiln_yard', 'edit', 'at=%2Fcameras%2Fc2']);
});

test('no code leads a phone to an address that only this machine has', () => {
  for (const hostname of ['localhost', '127.0.0.1', '127.0.1.1', '[::1]'])
    expect(addressForCodes({ origin: `http://${hostname}:8460`, hostname }, 'kiln_yard')).toBe('');
});
