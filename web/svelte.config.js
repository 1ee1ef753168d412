import { vitePreprocess } from '@sveltejs/vite-plugin-svelte';

export default {
  preprocess: vitePreprocess(),
  compilerOptions: {
    // A screen is made anew for each site (frame/SiteScreen.svelte), so that its `site` never changes under it.
    warningFilter: ({ code }) => code !== 'state_referenced_locally',
  },
};
