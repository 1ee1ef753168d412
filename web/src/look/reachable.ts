// What scrolls sideways is reached by keys as well, and only then: a table that fits needs no stop of its own.
export function reachable(element: HTMLElement) {
  const look = () => {
    if (element.scrollWidth > element.clientWidth + 1) {
      element.tabIndex = 0;
      element.setAttribute('role', 'group');
    } else {
      element.removeAttribute('tabindex');
      element.removeAttribute('role');
    }
  };
  const watch = new ResizeObserver(look);
  watch.observe(element);
  if (element.firstElementChild) watch.observe(element.firstElementChild);
  return { destroy: () => watch.disconnect() };
}
