import { spawn } from 'node:child_process';

/** The program that opens an address on this desktop, or null where there is no screen to open it on. */
export function browserOpener(
  platform: NodeJS.Platform,
  environment: Readonly<Record<string, string | undefined>>,
): { command: string; args: readonly string[] } | null {
  if (environment.CI || environment.SSH_CONNECTION) return null;
  if (platform === 'darwin') return { command: 'open', args: [] };
  if (platform === 'win32') return { command: 'rundll32', args: ['url.dll,FileProtocolHandler'] };
  return environment.DISPLAY || environment.WAYLAND_DISPLAY ? { command: 'xdg-open', args: [] } : null;
}

/** Opens an address in the desktop's browser if it can. Never fails: the address is printed anyway. */
export function openBrowser(url: string): void {
  const opener = browserOpener(process.platform, process.env);
  if (!opener) return;
  try {
    const child = spawn(opener.command, [...opener.args, url], { stdio: 'ignore', detached: true });
    child.on('error', () => {});
    child.unref();
  } catch {
    // Nothing to open it with.
  }
}
