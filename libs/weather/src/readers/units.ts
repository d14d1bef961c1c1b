/** What is measured, and so which units make sense. */
export type Measure = 'speed' | 'temperature' | 'depth' | 'share';

export interface Unit {
  readonly measure: Measure;
  readonly name: string;
  /** The value in m/s, C, mm or %. */
  toOurs(value: number): number;
}

const factor = (measure: Measure, name: string, by: number): Unit => ({
  measure,
  name,
  toOurs: (value) => value * by,
});

/** International: knot = 1852 m an hour, mile = 1609.344 m, foot = 0.3048 m, inch = 25.4 mm, all exact. */
const UNITS: readonly (readonly [unit: Unit, spellings: string])[] = [
  [factor('speed', 'm/s', 1), 'm/s mps ms-1 m.s-1 ms^-1 m*s-1'],
  [factor('speed', 'km/h', 1 / 3.6), 'km/h kmh kph kmph kmh-1 km.h-1'],
  [factor('speed', 'kn', 1852 / 3600), 'kn kt kts knot knots'],
  [factor('speed', 'mph', 1609.344 / 3600), 'mph mp/h mi/h'],
  [factor('speed', 'ft/s', 0.3048), 'ft/s fps'],
  [{ measure: 'temperature', name: 'C', toOurs: (value) => value }, 'c °c degc deg_c celsius ºc'],
  [
    { measure: 'temperature', name: 'F', toOurs: (value) => ((value - 32) * 5) / 9 },
    'f °f degf deg_f fahrenheit ºf',
  ],
  [{ measure: 'temperature', name: 'K', toOurs: (value) => value - 273.15 }, 'k kelvin'],
  [factor('depth', 'mm', 1), 'mm millimetre millimeter millimetres millimeters kg/m2 kg/m^2'],
  [factor('depth', 'cm', 10), 'cm'],
  [factor('depth', 'in', 25.4), 'in inch inches'],
  [factor('share', '%', 1), '% pct percent'],
];

const BY_SPELLING = new Map(
  UNITS.flatMap(([unit, spellings]) => spellings.split(' ').map((spelling) => [spelling, unit] as const)),
);

/** The unit that a text names, in any usual spelling; null when it names none. */
export function unitNamed(text: string): Unit | null {
  return BY_SPELLING.get(text.trim().toLowerCase().replace(/\s+/g, '')) ?? null;
}
