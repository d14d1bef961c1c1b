import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import { ProblemError } from './problem-error.ts';

/** The ETag of a version. */
export const etagOf = (version: number): string => `"${version}"`;

/**
 * The version that an If-Match header names. Throws `version-required` without a header; a header that names no version
 * of ours (a weak tag, a list, `*`) matches nothing and throws `version-conflict`.
 */
export function versionOf(ifMatch: string | undefined): number {
  if (ifMatch === undefined || ifMatch.trim() === '') throw new ProblemError('version-required');
  const version = /^"([1-9][0-9]{0,9})"$/.exec(ifMatch.trim())?.[1];
  if (version === undefined) throw new DryspellError('version-conflict');
  return Number(version);
}

/** Whether an If-None-Match header names the tag (weak comparison, RFC 9110 section 13.1.2). */
export function matchesNone(ifNoneMatch: string | undefined, etag: string): boolean {
  if (ifNoneMatch === undefined) return false;
  const bare = (tag: string) => tag.trim().replace(/^W\//, '');
  return ifNoneMatch.trim() === '*' || ifNoneMatch.split(',').some((tag) => bare(tag) === bare(etag));
}
