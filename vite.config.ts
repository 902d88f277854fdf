import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';
import { PAGE_POLICY } from './src/cli/security-headers.ts';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** The built page carries its own policy; the development server needs inline scripts and gets none. */
function pagePolicy(): Plugin {
  return {
    name: 'hollowline:page-policy',
    apply: 'build',
    transformIndexHtml: () => [
      {
        tag: 'meta',
        attrs: { 'http-equiv': 'Content-Security-Policy', content: PAGE_POLICY },
        injectTo: 'head-prepend',
      },
    ],
  };
}

export default defineConfig({
  root: here('src/app'),
  base: './',
  plugins: [react(), pagePolicy()],
  worker: { format: 'es' },
  server: { fs: { allow: [here('.')] } },
  build: {
    outDir: here('dist'),
    emptyOutDir: true,
    target: 'es2023',
    // Nothing is turned into `data:` addresses, which the policy forbids.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: true,
    // MapLibre is one piece; it is loaded after the page.
    chunkSizeWarningLimit: 1500,
  },
});
