import type { ApiConfig } from './config.ts';

/** The address that people use, without a trailing slash: as configured, else that on which the server listens. */
export function publicAddress(config: ApiConfig): string {
  if (config.publicUrl !== null) return config.publicUrl;
  const host = config.host === '0.0.0.0' || config.host === '::' ? 'localhost' : config.host;
  return `http://${host.includes(':') ? `[${host}]` : host}:${config.port}`;
}

/** Right-hand side of calendar uids and message ids. */
export const mailDomain = (config: ApiConfig): string => new URL(publicAddress(config)).hostname;
