// Pictures below plans on this device. They never change, so what is kept is right for good; the service worker reads them
// from here (worker.ts).
const kKept = 'kept-1';
const isPicture = (address: string) => new URL(address).pathname.startsWith('/api/files/');

/** Whether the picture is on this device now. A browser without a place for it, or a server that has none, says no. */
export async function keepPicture(address: string, signal?: AbortSignal): Promise<boolean> {
  if (typeof caches === 'undefined') return false;
  try {
    const kept = await caches.open(kKept);
    if (await kept.match(address)) return true;
    const response = await fetch(address, { signal });
    if (!response.ok) {
      await response.body?.cancel();
      return false;
    }
    await kept.put(address, response);
    return true;
  } catch {
    return false;
  }
}

export async function forgetPictures(): Promise<void> {
  if (typeof caches === 'undefined') return;
  const kept = await caches.open(kKept);
  for (const request of await kept.keys()) if (isPicture(request.url)) await kept.delete(request);
}
