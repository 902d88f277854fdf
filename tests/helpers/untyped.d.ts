declare module 'geojson-validation' {
  const validation: { valid(document: unknown): boolean };
  export default validation;
}

declare module 'gdal3.js/node.js' {
  const initialise: (options: object) => Promise<unknown>;
  export default initialise;
}
