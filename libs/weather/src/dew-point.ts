/** Constants of the Magnus form over water: WMO-No. 8, Guide to Instruments, Annex 4.B; for -45 to 60 C. */
const A = 17.62;
const B = 243.12;

/**
 * Dew point in C from air temperature in C and relative humidity in % (over 0, up to 100), over water:
 * e_w(t) = 6.112 exp(17.62 t / (243.12 + t)) hPa, solved for t. NaN for a humidity of 0 or less, above 100, or unknown.
 */
export function dewPointC(tempC: number, rhPct: number): number {
  if (!(rhPct > 0 && rhPct <= 100)) return Number.NaN;
  const gamma = Math.log(rhPct / 100) + (A * tempC) / (B + tempC);
  return (B * gamma) / (A - gamma);
}
