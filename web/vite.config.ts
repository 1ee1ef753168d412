import { svelte } from '@sveltejs/vite-plugin-svelte';
import { readFileSync, readdirSync } from 'node:fs';
import { createHash } from 'node:crypto';
import { defineConfig } from 'vite';

const publicFolder = new URL('./public/', import.meta.url);

/** What a device does not keep: the reader of PDFs, 1.7 MB that only tracing over a new page needs. */
const isLeftOut = (name: string) => /(^|\/)pdf[.-]/.test(name);

/** Tells the service worker what the page consists of: it keeps these files, and a name for this set of them. */
function pageFiles() {
  return {
    name: 'page-files',
    generateBundle(_options, bundle) {
      const worker = bundle['worker.js'];
      if (worker?.type !== 'chunk') throw new Error('the service worker is not in the bundle');
      const made = Object.keys(bundle).filter((name) => name !== 'worker.js' && !isLeftOut(name));
      const files = [...made, ...readdirSync(publicFolder)].map((name) => `/${name === 'index.html' ? '' : name}`);
      if (!files.includes('/')) files.push('/');
      const sum = createHash('sha256');
      for (const name of made.sort()) {
        const file = bundle[name];
        sum.update(name).update(file.type === 'chunk' ? file.code : file.source);
      }
      for (const name of readdirSync(publicFolder).sort()) sum.update(readFileSync(new URL(name, publicFolder)));
      worker.code = worker.code
        .replace(/["']__FILES__["']/, JSON.stringify(files.sort()))
        .replace(/__EDITION__/, sum.digest('hex').slice(0, 16));
    },
  };
}

export default defineConfig({
  plugins: [svelte(), pageFiles()],
  build: {
    target: 'es2022',
    assetsInlineLimit: 0, // no data: addresses: the page's content policy allows files of its own only
    modulePreload: { polyfill: false },
    rollupOptions: {
      input: { page: 'index.html', worker: 'src/offline/worker.ts' },
      output: {
        entryFileNames: (chunk) => (chunk.name === 'worker' ? 'worker.js' : 'assets/[name]-[hash].js'),
      },
    },
  },
  worker: { format: 'es' },
  server: { fs: { allow: ['..'] } },
  // Tests named *.svelte.test.ts hold what answers to changes (effects): they run with the code that a browser gets.
  resolve: process.env.VITEST ? { conditions: ['browser'] } : undefined,
  test: { include: ['tests/**/*.test.ts'], setupFiles: ['tests/setup.ts'], environment: 'node', testTransformMode: { web: ['**/*.svelte.test.ts'] } },
});
