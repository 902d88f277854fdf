import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { FilePreview } from '../../src/app/screens/import/FilePreview';
import { PointSketch } from '../../src/app/screens/import/PointSketch';
import type { FileColumns } from '../../src/exchange/read/columns';
import { previewTable } from '../../src/exchange/read/preview';
import { readTables } from '../../src/exchange/read/tables';

const HOOKUP_QUESTION = 'How many rods are in the ground';

/** What a person sees of a file, as text without its tags. */
function pageOf(text: string, columns: FileColumns): { html: string; words: string } {
  const file = { name: 'own.csv', bytes: new TextEncoder().encode(text) };
  const { notes } = readTables([file], { columns: { files: { 'own.csv': columns } }, seed: 'test' });
  const nothing = () => undefined;
  const html = renderToStaticMarkup(
    <FilePreview
      preview={previewTable(file.bytes, file.name, columns)}
      columns={columns}
      notes={notes}
      onCorrect={nothing}
      onLeaveOut={nothing}
    />,
  );
  return { html, words: html.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ') };
}

describe('a file in the preview', () => {
  it('shows every column with what stands in it and what it was taken for', () => {
    const { html } = pageOf('line,midpiont,a_m,value,unit\nA,1,2,35,ohm\n', { table: 'readings' });
    expect(html).toMatch(/>value<\/span><span class="column-samples">35</);
    expect(html).toMatch(/aria-label="Meaning of value">.*?<option value="value" selected=""/);
    expect(html).toMatch(/aria-label="Meaning of midpiont"><option value="" selected=""/);
    expect(html).toContain('Is it the midpoint: distance along the line (m)?');
  });

  it('asks how the probes were wired unless a column says it, and has no answer ready', () => {
    const silent = pageOf('line,midpoint_m,spacing_m,value,unit\nA,1,2,35,ohm\n', { table: 'readings' });
    expect(silent.words).toContain(HOOKUP_QUESTION);
    expect(silent.html).not.toMatch(/type="radio"[^>]*checked/);
    expect(silent.words).toContain('treated as two-probe');
    const spoken = pageOf('line,midpoint_m,spacing_m,value,unit,hookup\nA,1,2,35,ohm,pole_pole\n', {
      table: 'readings',
    });
    expect(spoken.words).not.toContain(HOOKUP_QUESTION);
  });

  it('marks what has to be said before it can be taken', () => {
    const text = 'easting,northing,value\n1,2,35\n3,4,36\n';
    const marked = (html: string) => [...html.matchAll(/data-needed="true"/g)].length;
    // The line, the unit, and where easting and northing are counted from.
    expect(marked(pageOf(text, { table: 'readings' }).html)).toBe(3);
    const said: FileColumns = {
      table: 'readings',
      constants: { line: 'A', unit: 'ohm' },
      grid: { unit: 'm', origin_lon_lat: [-91, 37] },
    };
    const { html, words } = pageOf(text, said);
    expect(marked(html)).toBe(0);
    expect(words).not.toContain('in the way');
  });

  it('lists faults before everything else, and notes behind', () => {
    const { words } = pageOf('line,midpoint_m,spacing_m,value,unit,colour\nA,1,2,wet,ohm,red\n', { table: 'readings' });
    expect(words).toContain('value says &quot;wet&quot;');
    expect(words.indexOf('in the way')).toBeLessThan(words.indexOf('name of the line'));
    expect(words.indexOf('the column &quot;colour&quot; is not known')).toBeGreaterThan(words.indexOf('in the way'));
  });
});

describe('the sketch of where the points fall', () => {
  it('is drawn to one scale, north up, and says its extent', () => {
    const places = {
      system: 'lon_lat' as const,
      points: [
        [-91, 37],
        [-90.99, 37.001],
      ] as const,
      bounds: [-91, 37, -90.99, 37.001] as const,
      extentM: [889.6, 111] as const,
    };
    const html = renderToStaticMarkup(<PointSketch places={places} unit={null} />);
    const circles = [...html.matchAll(/cx="([\d.]+)" cy="([\d.]+)"/g)].map(([, x, y]) => [Number(x), Number(y)]);
    expect(circles[0]?.[0]).toBe(0);
    expect(circles[0]?.[1]).toBeCloseTo((300 * 111) / 889.6, 6);
    expect(circles[1]?.[0]).toBeCloseTo(300, 6);
    expect(circles[1]?.[1]).toBe(0);
    expect(html).toContain('890 m from west to east and 111 m from south to north');
    expect(html).not.toContain('style=');
  });

  it('is not drawn where there is nothing', () => {
    const nothing = { system: 'none' as const, points: [], bounds: null, extentM: null };
    expect(renderToStaticMarkup(<PointSketch places={nothing} unit={null} />)).toBe('');
  });
});
