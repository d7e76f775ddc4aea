import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

/**
 * A page is a few files, not thirty: finding and linking each costs more than its bytes. `shell` is what signing in
 * needs; `frame` is what every page needs.
 */
const chunks = [
  {
    name: 'shell',
    test: /\/node_modules\/(react|react-dom|scheduler)\/|\/src\/(shell\/|theme\/|later|pages|i18n\/(locale|dictionary|say-problem)\.ts|providers\/(request|clock))/,
    priority: 2,
  },
  {
    name: 'frame',
    test: /\/node_modules\/(ra-core|ra-i18n-polyglot|node-polyglot|react-router|react-router-dom|@tanstack|lodash|query-string)\/|\/packages\/domain\/|\/src\/(AdminApp|frame\/|providers\/|shared\/(format\/|parts\/(?!TellMaker))|i18n\/i18n-provider)/,
    priority: 1,
  },
];

export default defineConfig({
  plugins: [react()],
  base: '/',
  // The API puts a fresh nonce here in every answer; the page itself has no inline script or style.
  html: { cspNonce: '__CSP_NONCE__' },
  build: {
    assetsInlineLimit: 0,
    outDir: 'dist',
    target: 'es2023',
    sourcemap: false,
    modulePreload: { polyfill: false },
    rolldownOptions: { output: { codeSplitting: { groups: chunks } } },
  },
  server: { proxy: { '/api': 'http://localhost:4180' } },
});
