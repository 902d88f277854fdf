import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { strippedPhoto } from '../../src/exchange/write/photo-stripped';
import { commit } from '../../src/survey/commit';
import { correctReading } from '../../src/survey/edits';
import { makeId } from '../../src/survey/ids';
import type { Survey } from '../../src/survey/survey';
import { demoContent } from '../app/demo-content';
import { jpegWithPlace, pngWithPlace, webpWithPlace } from '../helpers/made-photos';
import { PHONE } from './open-page';
import { setStage } from './stage';

const stage = setStage();

const HERE = { by: 'this device', at: '2026-05-12T10:00:00Z' };
const THERE = { by: 'Bert', at: '2026-05-13T10:00:00Z' };

function corrected(survey: Survey, i: number, value: number, by: typeof HERE) {
  const reading = survey.readings[i];
  const change = reading ? correctReading(survey, reading.id, { value }, by) : null;
  if (!change?.ok) throw new Error('no such reading');
  return change.value;
}

/** Bert's copy: one reading more, one that only he corrected, one that both did. */
function theirs(survey: Survey): Survey {
  const [first] = survey.readings;
  if (!first) throw new Error('no readings');
  let copy = survey;
  for (const i of [700, 701]) copy = commit(copy, corrected(copy, i, 5000 + i, THERE)).survey;
  const added = { ...first, id: makeId('reading', 'bert', 'new'), midpoint_m: 1.25, time: THERE.at };
  return { ...copy, readings: [...copy.readings, added] };
}

const openSurvey = (page: Page): Promise<Survey> =>
  page.evaluate(() => {
    const { phase } = window.hollowline?.store.get() ?? {};
    if (phase?.kind !== 'ready') throw new Error('nothing is open');
    return phase.content.survey;
  });
const values = ({ readings }: Survey) => [700, 701].map((i) => readings[i]?.value);

describe('many surveys', () => {
  it('a colleague’s part is looked at, answered, taken as one edit and taken back', async () => {
    const page = await stage.open();
    const { survey } = demoContent();
    await page.evaluate(
      (edit) => window.hollowline?.commit(edit as never),
      corrected(survey, 700, 111, HERE) as unknown,
    );
    await page.getByRole('button', { name: 'Hand over' }).click();
    await page.getByLabel('A colleague’s survey file').setInputFiles({
      name: 'bert.survey.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(theirs(survey))),
    });
    const dialog = page.getByRole('dialog', { name: 'A colleague’s part' });
    await dialog.getByText('New: 1 reading').waitFor();
    await dialog.getByText('Changed by them and not by you: 1 reading').waitFor();
    await dialog.getByText('1 question open').waitFor();
    // By the keyboard: the first answer is mine, the next one theirs.
    await dialog.getByRole('radio', { name: 'Mine' }).focus();
    await page.keyboard.press('Space');
    await page.keyboard.press('ArrowDown');
    expect(await dialog.getByRole('radio', { name: 'Theirs' }).isChecked()).toBe(true);
    await dialog.getByRole('button', { name: 'Bring it in' }).click();
    await page.getByText('bert.survey.json is brought in.').waitFor();
    const joined = await openSurvey(page);
    expect([joined.readings.length, ...values(joined)]).toEqual([survey.readings.length + 1, 5700, 5701]);

    await page.getByRole('button', { name: 'Record', exact: true }).click();
    await page.getByRole('button', { name: 'Undo: Bring in a colleague’s part' }).click();
    await expect.poll(async () => (await openSurvey(page)).readings.length).toBe(survey.readings.length);
    expect(values(await openSurvey(page))).toEqual([111, survey.readings[701]?.value]);
  });

  it('one is a template for the next, is put into the archive and found again', async () => {
    const page = await stage.open();
    const { survey } = demoContent();
    await page.evaluate(
      (edit) => window.hollowline?.commit(edit as never),
      corrected(survey, 700, 111, HERE) as unknown,
    );
    await page.getByRole('button', { name: 'Hand over' }).click();
    const lines = survey.lines.filter(({ retired }) => !retired).length;
    await page.getByText(`; ${lines} lines, `).waitFor();
    await page.getByText('More about Brackamore Slade').click();
    await page.getByRole('button', { name: 'Use as a template' }).click();
    await page.getByLabel('Name of the new survey').fill('Next field');
    await page.getByRole('button', { name: 'Begin', exact: true }).click();
    await page.getByRole('heading', { level: 1, name: 'Next field' }).waitFor();
    const begun = await openSurvey(page);
    expect([begun.lines.length, begun.readings.length]).toEqual([lines, 0]);

    await page.getByRole('button', { name: 'Put into the archive' }).click();
    await page.getByText('In the archive (1)').click();
    await page.getByRole('button', { name: 'Open Brackamore Slade' }).click();
    await page.getByRole('heading', { level: 1, name: 'Brackamore Slade' }).waitFor();
    expect(values(await openSurvey(page))[0]).toBe(111);
  });

  it('one of one’s own is begun from the demo, empty, and is kept', async () => {
    const page = await stage.open(PHONE);
    await page.getByText('Begin a survey of your own').click();
    await page.getByLabel('Name of the site').fill('Wet field');
    await page.getByRole('button', { name: 'Begin the survey' }).click();
    await page.getByRole('heading', { level: 1, name: 'Wet field' }).waitFor();
    const { lines, readings, site } = await openSurvey(page);
    expect([lines, readings, site.invented]).toEqual([[], [], undefined]);
    await page.getByRole('button', { name: 'New line' }).waitFor();
    // It lies nowhere yet: the ground of the demo is gone from sight, or a line would be drawn on it.
    const zoom = () =>
      page.evaluate(() => (window.hollowline?.map as unknown as { getZoom(): number } | undefined)?.getZoom() ?? 99);
    await expect.poll(zoom).toBeLessThan(4);
    await page.reload();
    await page.getByRole('heading', { level: 1, name: 'Wet field' }).waitFor();
  });

  it('a photo of a reading is kept on the device and goes out without its place', async () => {
    const page = await stage.open(PHONE);
    await page.getByRole('button', { name: 'Record', exact: true }).click();
    await page.getByRole('row').nth(3).getByRole('gridcell').nth(2).click();
    const file = { name: 'a.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(jpegWithPlace()) };
    await page.getByLabel('Picture of the reading').setInputFiles(file);
    const small = page.getByRole('button', { name: 'Photo 1 of the reading' });
    await small.locator('canvas').waitFor();
    await small.click();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save a copy without its place' }).click(),
    ]);
    const given = [await readAll(await download.createReadStream())];
    for (const made of [pngWithPlace(), webpWithPlace()]) {
      const outcome = strippedPhoto(made);
      if (outcome.ok) given.push(Buffer.from(outcome.value.bytes));
    }
    const widths = await page.evaluate(
      (pictures) =>
        Promise.all(pictures.map(async (bytes) => (await createImageBitmap(new Blob([Uint8Array.from(bytes)]))).width)),
      given.map((bytes) => [...bytes]),
    );
    expect(widths).toEqual([8, 3, 1]);
    await page.waitForFunction(() => window.hollowline?.store.get().kept === 'kept');
    const { photos } = await openSurvey(page);
    expect(photos.map(({ media_type: kind }) => kind)).toEqual(['image/jpeg']);
  });
});

async function readAll(stream: AsyncIterable<Buffer>): Promise<Buffer> {
  const parts: Buffer[] = [];
  for await (const part of stream) parts.push(part);
  const bytes = Buffer.concat(parts);
  for (const words of ['Slade', 'adobe']) expect(bytes.includes(words)).toBe(false);
  return bytes;
}
