export const LEAF_LIBS: readonly string[];
export const PURE_LIBS: readonly string[];
export const EDGE_LIBS: readonly string[];
export function isPure(file: string): boolean;
