// A drawing of the program, as a piece of the page: parsed, without what the page's policy does not take (its style
// element: look/base.css has the same classes), and never as text put into the page.

const kTaken = new Set(['svg', 'g', 'path', 'rect', 'circle', 'ellipse', 'line', 'polyline', 'polygon', 'text', 'tspan', 'title', 'desc', 'image', 'a', 'defs', 'clipPath', 'use']);

export function drawn(text: string): SVGSVGElement {
  // Even the style of a document that is only parsed is a breach of the policy: it is taken out before.
  const parsed = new DOMParser().parseFromString(text.replace(/<style>[\s\S]*?<\/style>/g, ''), 'image/svg+xml');
  const root = parsed.documentElement;
  if (root.localName !== 'svg') throw new Error('not a drawing');
  clean(root);
  root.removeAttribute('width');
  root.removeAttribute('height');
  return document.importNode(root, true) as unknown as SVGSVGElement;
}

function clean(element: Element): void {
  for (const child of [...element.children]) {
    if (kTaken.has(child.localName)) clean(child);
    else child.remove();
  }
  for (const { name, value } of [...element.attributes]) {
    const address = name === 'href' || name.endsWith(':href');
    if (name.startsWith('on') || name === 'style' || (address && !/^(#|data:image\/png)/.test(value))) element.removeAttribute(name);
  }
}

/** Ids of the groups and lines under a place of the drawing, the innermost first. */
export function idsAt(target: EventTarget | null): string[] {
  const found: string[] = [];
  for (let at = target instanceof Element ? target : null; at !== null && at.localName !== 'svg'; at = at.parentElement) if (at.id) found.push(at.id);
  return found;
}

/** Elements that belong to a thing: "z3" is in "wire-z3-tap-1" and "zone-z3". */
export function belonging(root: Element, id: string): Element[] {
  const inside = new RegExp(`(^|-)${id}(-|\\.|$)`);
  return [...root.querySelectorAll('[id]')].filter((one) => inside.test(one.id));
}
