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

/** The colour that most points of a part of a page have, as red, green and blue. */
export async function commonColourIn(
  browser: Browser,
  page: Page,
  clip: { x: number; y: number; width: number; height: number },
): Promise<readonly number[]> {
  const shot = await page.screenshot({ clip });
  const blank = await browser.newPage();
  try {
    return await blank.evaluate(async (bytes) => {
      const picture = await createImageBitmap(new Blob([new Uint8Array(bytes)], { type: 'image/png' }));
      const context = new OffscreenCanvas(picture.width, picture.height).getContext('2d');
      context?.drawImage(picture, 0, 0);
      const data = context?.getImageData(0, 0, picture.width, picture.height).data ?? [];
      const counts = new Map<string, number>();
      for (let i = 0; i < data.length; i += 4) {
        const colour = `${data[i]} ${data[i + 1]} ${data[i + 2]}`;
        counts.set(colour, (counts.get(colour) ?? 0) + 1);
      }
      const [most = ''] = [...counts].sort(([, p], [, q]) => q - p)[0] ?? [];
      return most.split(' ').map(Number);
    }, Array.from(shot));
  } finally {
    await blank.close();
  }
}
