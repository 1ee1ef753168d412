// Lets the service worker keep the page for times without a network. A browser has one on https and on this machine itself
// only; elsewhere edits are kept all the same, but the page has to stay open.
export function keepPage(): void {
  if (!('serviceWorker' in navigator) || !import.meta.env.PROD) return;
  navigator.serviceWorker.register('/worker.js').catch((fault) => console.warn('the page is not kept:', fault));
}
