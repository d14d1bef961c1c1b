/** Injection token of the database (`Database` of libs/data). */
export const DATABASE = Symbol('Database');
