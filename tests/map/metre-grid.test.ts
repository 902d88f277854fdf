import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { localPlane } from '../../src/map/local-plane';
import { type GridView, gridLabel, metreGrid } from '../../src/map/metre-grid';

const plane = localPlane(-91.9, 37.4);

/** A view of a screen 1000 × 800 pixels, its middle so many metres from the plane's origin. */
function viewAt(eastM: number, northM: number, metresPerPixel: number): GridView {
  const southWest = plane.toLonLat(eastM - 500 * metresPerPixel, northM - 400 * metresPerPixel);
  const northEast = plane.toLonLat(eastM + 500 * metresPerPixel, northM + 400 * metresPerPixel);
  return {
    west: southWest.lon,
    south: southWest.lat,
    east: northEast.lon,
    north: northEast.lat,
    metresPerPixel,
  };
}

describe('the metre grid', () => {
  it('steps by 1, 2 or 5 times a power of ten, and no closer than 84 pixels', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 20, noNaN: true }), (metresPerPixel) => {
        const { stepM } = metreGrid(plane, viewAt(0, 0, metresPerPixel));
        if (stepM === null) throw new Error('no grid');
        const lead = stepM / 10 ** Math.floor(Math.log10(stepM) + 1e-9);
        expect([1, 2, 5].some((round) => Math.abs(lead - round) < 1e-6)).toBe(true);
        expect(stepM / metresPerPixel).toBeGreaterThanOrEqual(84 - 1e-6);
        expect(stepM / metresPerPixel).toBeLessThanOrEqual(84 * 2.5 + 1e-6);
      }),
    );
  });

  it('lies on whole steps from its origin, wherever the map is', () => {
    const { stepM, lines } = metreGrid(plane, viewAt(337, -121, 0.2));
    expect(stepM).toBe(20);
    expect(lines.features.length).toBeGreaterThan(10);
    for (const { geometry } of lines.features) {
      const places = geometry.coordinates.map(([lon, lat]) => plane.toPlane(lon ?? 0, lat ?? 0));
      const onEast = places.every(({ eastM }) => Math.abs(eastM / 20 - Math.round(eastM / 20)) < 1e-4);
      const onNorth = places.every(({ northM }) => Math.abs(northM / 20 - Math.round(northM / 20)) < 1e-4);
      expect(onEast || onNorth).toBe(true);
    }
  });

  it('covers the view from edge to edge', () => {
    const { lines } = metreGrid(plane, viewAt(0, 0, 0.2));
    const easts = lines.features
      .map(({ geometry }) => geometry.coordinates.map(([lon, lat]) => plane.toPlane(lon ?? 0, lat ?? 0)))
      .filter((places) => Math.abs((places[0]?.eastM ?? 0) - (places.at(-1)?.eastM ?? 1)) < 0.01)
      .map((places) => Math.round(places[0]?.eastM ?? 0));
    expect(Math.min(...easts)).toBe(-100);
    expect(Math.max(...easts)).toBe(100);
    expect(easts.length).toBe(11);
  });

  it('says which way and how far each line is from the origin', () => {
    expect([
      gridLabel(40, 'E'),
      gridLabel(-40, 'E'),
      gridLabel(20, 'N'),
      gridLabel(-0.5, 'N'),
      gridLabel(0, 'N'),
    ]).toEqual(['40 E', '40 W', '20 N', '0.5 S', '0']);
    const { labels } = metreGrid(plane, viewAt(0, 0, 0.2));
    expect(labels.features.map(({ properties }) => properties.label)).toContain('60 W');
  });

  it('is left out where the ground is no plane', () => {
    expect(metreGrid(plane, viewAt(0, 0, 500)).stepM).toBeNull();
    expect(metreGrid(plane, viewAt(90_000, 0, 50)).lines.features).toEqual([]);
  });
});
