// Where the page is: #/s/kiln-yard/zone/z7/trigger?at=/zones/z7/loop. What stands in the address can be sent to somebody, and
// is found again with the browser's back key.
export interface Route {
  site: string | null;
  screen: string;
  rest: string[];
  query: URLSearchParams;
}

export function readRoute(hash: string): Route {
  const [path = '', query = ''] = hash.replace(/^#/, '').split('?');
  const [kind, site, screen, ...rest] = path.split('/').filter(Boolean).map(decodeURIComponent);
  if (kind !== 's' || !site) return { site: null, screen: kind ?? 'start', rest: [], query: new URLSearchParams(query) };
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
