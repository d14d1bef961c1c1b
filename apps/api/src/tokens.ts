/** Injection tokens of things that are no classes. */
export const API_CONFIG = Symbol('ApiConfig');
export const CLOCK = Symbol('Clock');
