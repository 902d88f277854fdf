import type { Browser, Page } from 'playwright-core';

/** The colour of a page at a point, as it was put on the screen: `#rrggbb`. */
export async function colourAt(browser: Browser, page: Page, at: { x: number; y: number }): Promise<string> {
  const shot = await page.screenshot({ clip: { x: Math.round(at.x), y: Math.round(at.y), width: 1, height: 1 } });
  const blank = await browser.newPage();
  try {
    return await blank.evaluate(async (bytes) => {
      const picture = await createImageBitmap(new Blob([new Uint8Array(bytes)], { type: 'image/png' }));
      const context = new OffscreenCanvas(1, 1).getContext('2d');
      context?.drawImage(picture, 0, 0);
      const [red = 0, green = 0, blue = 0] = context?.getImageData(0, 0, 1, 1).data ?? [];
      return `#${[red, green, blue].map((part) => part.toString(16).padStart(2, '0')).join('')}`;
    }, Array.from(shot));
  } finally {
    await blank.close();
  }
}
