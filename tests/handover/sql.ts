import initSqlJs from 'sql.js';

/** SQLite for tests, loaded once. */
export const sql = await initSqlJs();
