/** Version of the program; a test compares it with package.json. */
export const API_VERSION = '0.1.0';
