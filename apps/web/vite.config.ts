import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

export default defineConfig({
  root: import.meta.dirname,
  base: '/app/',
  plugins: [react()],
  server: {
    proxy: Object.fromEntries(['/api', '/sign-in', '/assets/page.css'].map((path) => [path, api()])),
  },
  build: {
    outDir: '../../dist/apps/web',
    emptyOutDir: true,
    // A style sheet may not load data: fonts and the like under our content security policy.
    assetsInlineLimit: 0,
    chunkSizeWarningLimit: 1000,
    rolldownOptions: {
      // The zone data is large and changes seldom: a file of its own stays in the cache when a screen changes.
      output: {
        codeSplitting: {
          groups: [
            { name: 'zones', test: /\/node_modules\/(?:moment|moment-timezone|luxon)\/|\/libs\/kernel\// },
          ],
        },
      },
      // Our libraries do nothing when they are loaded, so what no screen uses of them stays out.
      treeshake: { moduleSideEffects: (id) => !/\/libs\/(?:kernel|contracts)\//.test(id) },
    },
  },
});

/** Where `vite dev` finds the API while screens are being written. */
function api(): string {
  return process.env['DRYSPELL_API'] ?? 'http://127.0.0.1:8080';
}
