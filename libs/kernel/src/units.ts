import type { Brand } from './brand.ts';

/** A length of time in minutes. */
export type Minutes = Brand<number, 'Minutes'>;
/** A length in metres. */
export type Metres = Brand<number, 'Metres'>;
/** A distance by road or over ground in kilometres. */
export type Kilometres = Brand<number, 'Kilometres'>;
/** A mass in kilograms. */
export type Kilograms = Brand<number, 'Kilograms'>;
/** A speed in metres per second: wind, gusts. */
export type MetresPerSecond = Brand<number, 'MetresPerSecond'>;
/** An amount of money in whole minor units of its currency. */
export type Cents = Brand<number, 'Cents'>;

/** Marks a number as minutes; the caller answers for its meaning. */
export const minutes = (value: number): Minutes => value as Minutes;
/** Marks a number as metres; the caller answers for its meaning. */
export const metres = (value: number): Metres => value as Metres;
/** Marks a number as kilometres; the caller answers for its meaning. */
export const kilometres = (value: number): Kilometres => value as Kilometres;
/** Marks a number as kilograms; the caller answers for its meaning. */
export const kilograms = (value: number): Kilograms => value as Kilograms;
/** Marks a number as metres per second; the caller answers for its meaning. */
export const metresPerSecond = (value: number): MetresPerSecond => value as MetresPerSecond;
