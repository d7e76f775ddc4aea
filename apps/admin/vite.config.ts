import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

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
  },
  server: { proxy: { '/api': 'http://localhost:4180' } },
});
