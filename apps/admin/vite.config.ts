import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';

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
    test: /\/node_modules\/(ra-core|ra-i18n-polyglot|node-polyglot|react-router|react-router-dom|@tanstack|lodash|query-string)\/|\/packages\/domain\/|\/src\/(AdminApp|frame\/|providers\/|shared\/(format\/|drawing\/|parts\/(?!TellMaker))|i18n\/i18n-provider|today\/(?!TodayPage)|orders\/(OrderTable|OrderStatePill|order-sentence|order-steps|choosing)|cases\/waiting|shelf\/(LensTable|UnitLens|tell-expiry)|returns\/WindowPill)/,
    priority: 1,
  },
];

/** Asks for the two fonts of every page with the page itself: text that is laid out in another first is laid out twice. */
const fontsAhead: Plugin = {
  name: 'fonts-ahead',
  transformIndexHtml: {
    order: 'post',
    handler: (_, { bundle = {} }) =>
      Object.keys(bundle)
        .filter((file) => /-latin-wght-normal-[^/]+\.woff2$/.test(file))
        .map((file) => ({
          tag: 'link',
          attrs: { rel: 'preload', as: 'font', type: 'font/woff2', crossorigin: true, href: `/${file}` },
        })),
  },
};

export default defineConfig({
  plugins: [react(), fontsAhead],
  base: '/',
  // The API puts a fresh nonce here in every answer; the page itself has no inline script or style.
  html: { cspNonce: '__CSP_NONCE__' },
  build: {
    assetsInlineLimit: 0,
    outDir: 'dist',
    target: 'es2023',
    sourcemap: false,
    cssCodeSplit: false,
    // Named ahead is only what is not there by then: for every other name the browser is given an element to make.
    modulePreload: {
      polyfill: false,
      resolveDependencies: (file, dependencies, { hostType }) =>
        hostType === 'html'
          ? dependencies
          : dependencies.filter(
              (one) => one !== file && !/\/(shell|frame|rolldown-runtime)-[^/]+$/.test(one),
            ),
    },
    rolldownOptions: { output: { codeSplitting: { groups: chunks } } },
  },
  server: { proxy: { '/api': 'http://localhost:4180' } },
});
