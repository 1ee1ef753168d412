// Where the page is: #/s/kiln-yard/zone/z7/trigger?at=/zones/z7/loop. What stands in the address can be sent to somebody, and
// is found again with the browser's back key.
export interface Route {
  site: string | null;
  screen: string;
  rest: string[];
  query: URLSearchParams;
}

/** What the codes on labels lead to, beside zones: the address of the site, and where the thing stands in the site file. */
const kThings = ['units', 'cameras'];

/**
 * The address of a site for the codes on labels; empty where this page is at an address that only this machine has, to which
 * no code can lead a phone.
 */
export function addressForCodes(here: Pick<Location, 'origin' | 'hostname'>, site: string): string {
  const ownOnly = here.hostname === 'localhost' || here.hostname === '[::1]' || here.hostname.startsWith('127.');
  return ownOnly ? '' : here.origin + '/' + hashOf(site, '').replace(/\/$/, '');
}

export function readRoute(hash: string): Route {
  const [path = '', query = ''] = hash.replace(/^#/, '').split('?');
  const [kind, site, screen, ...rest] = path.split('/').filter(Boolean).map(decodeURIComponent);
  if (kind !== 's' || !site) return { site: null, screen: kind ?? 'start', rest: [], query: new URLSearchParams(query) };
  const thing = rest[0];
  if (screen === 'zones' && thing) return { site, screen: 'zone', rest: [thing], query: new URLSearchParams(query) };
  if (screen && kThings.includes(screen) && thing)
    return { site, screen: 'edit', rest: [], query: new URLSearchParams({ at: `/${screen}/${thing}` }) };
  return { site, screen: screen ?? 'board', rest, query: new URLSearchParams(query) };
}

export function hashOf(site: string | null, screen: string, rest: string[] = [], query: Record<string, string> = {}): string {
  const path = site === null ? [screen] : ['s', site, screen, ...rest];
  const asked = new URLSearchParams(query).toString();
  return `#/${path.map(encodeURIComponent).join('/')}${asked ? `?${asked}` : ''}`;
}

class Place {
  now = $state.raw<Route>(readRoute(globalThis.location?.hash ?? ''));
  constructor() {
    globalThis.addEventListener?.('hashchange', () => (this.now = readRoute(location.hash)));
  }
  go(hash: string) {
    location.hash = hash;
  }
}
export const place = new Place();
