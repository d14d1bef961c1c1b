export interface PureFinding {
  readonly line: number;
  readonly rule: string;
}
export function lintPureSource(fileName: string, text: string): PureFinding[];
export function lintPureLibs(root: string): string[];
