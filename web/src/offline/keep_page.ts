// Lets the service worker keep the page for times without a network. A browser has one on https and on this machine itself
// only; elsewhere edits are kept all the same, but the page has to stay open.
/** Asks the browser not to clear what is kept here when its disk is full: whether it promises. Null where it cannot be asked. */
export async function askToStay(): Promise<boolean | null> {
  try {
    const { storage } = navigator;
    if (!storage?.persist) return null;
    return (await storage.persisted()) || (await storage.persist());
  } catch {
    return null;
  }
}

export function keepPage(): void {
  if (!('serviceWorker' in navigator) || !import.meta.env.PROD) return;
  navigator.serviceWorker.register('/worker.js').catch((fault) => console.warn('the page is not kept:', fault));
}
