import type { MapLook } from '../../src/map/map-look';

export const look: MapLook = {
  theme: 'light',
  spacing: 'all',
  palette: {
    paper: '#ffffff',
    ink: '#000000',
    quiet: '#777777',
    grid: '#eeeeee',
    gridMajor: '#dddddd',
    contour: '#cccccc',
    contourIndex: '#bbbbbb',
    corridor: '#eeeeee',
    casing: '#999999',
    accent: '#550088',
  },
};
