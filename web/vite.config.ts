import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

const here = fileURLToPath(new URL('.', import.meta.url));

/**
 * Everything is a file of its own: the page runs under a policy that allows no inline scripts,
 * so nothing may be inlined, neither small assets nor the loader's polyfill.
 */
export default defineConfig({
  root: here,
  plugins: [react()],
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    target: 'es2022',
  },
  server: { proxy: { '/api': process.env.ULLAGE_SERVER ?? 'http://127.0.0.1:4170' } },
});
