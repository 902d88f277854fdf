import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';
import { makeOnlinePage } from './src/cli/build/online-page.ts';
import { fillServiceWorker, SERVICE_WORKER } from './src/cli/build/service-worker-files.ts';
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

/** The built page is kept on the device by a worker that knows every file of the build. */
function keptOnDevice(): Plugin {
  return {
    name: 'hollowline:kept-on-device',
    apply: 'build',
    enforce: 'post',
    writeBundle: {
      order: 'post',
      sequential: true,
      handler: async ({ dir }) => {
        await makeOnlinePage(dir ?? here('dist'));
        await fillServiceWorker(dir ?? here('dist'));
      },
    },
  };
}

export default defineConfig({
  root: here('src/app'),
  base: './',
  plugins: [react(), pagePolicy(), keptOnDevice()],
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
    rolldownOptions: {
      input: { index: here('src/app/index.html'), 'service-worker': here('src/app/service-worker.ts') },
      output: {
        // The worker of a page has to have the same name in every build.
        entryFileNames: ({ name }) => (name === 'service-worker' ? SERVICE_WORKER : 'assets/[name]-[hash].js'),
      },
    },
    // MapLibre is one piece; it is loaded after the page.
    chunkSizeWarningLimit: 1500,
  },
});
