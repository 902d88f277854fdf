declare module 'sql.js/dist/sql-wasm-browser.js' {
  export { default } from 'sql.js';
}
