export class UsageError extends Error {}
export const HELP: string;
export interface StartOptions {
  readonly data: string | undefined;
  readonly port: number;
  readonly host: string;
  readonly demo: boolean;
  readonly help: boolean;
}
export function readStartOptions(
  args: readonly string[],
  environment?: Readonly<Record<string, string | undefined>>,
): StartOptions;
