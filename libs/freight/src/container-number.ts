/** What is wrong with a container number. */
export type ContainerNumberFault = 'length' | 'format' | 'category' | 'check-digit';

/** A container number in its written form, or what is wrong with it. */
export type ContainerNumberCheck =
  | { readonly valid: true; readonly number: string; readonly owner: string; readonly serial: string }
  | {
      readonly valid: false;
      readonly fault: ContainerNumberFault;
      readonly expectedCheckDigit: number | null;
    };

/**
 * Checks a freight container number by ISO 6346: three letters for the owner, U, J or Z for the category, six digits,
 * and a check digit. Small letters and blanks are accepted. On a wrong check digit the right one is given.
 */
export function checkContainerNumber(text: string): ContainerNumberCheck {
  const number = text.replace(/[\s-]/g, '').toUpperCase();
  if (number.length !== 11) return { valid: false, fault: 'length', expectedCheckDigit: null };
  if (!/^[A-Z]{4}\d{7}$/.test(number)) return { valid: false, fault: 'format', expectedCheckDigit: null };
  if (!'UJZ'.includes(number.charAt(3))) return { valid: false, fault: 'category', expectedCheckDigit: null };
  const expected = containerCheckDigit(number.slice(0, 10));
  if (expected !== Number(number.charAt(10)))
    return { valid: false, fault: 'check-digit', expectedCheckDigit: expected };
  return { valid: true, number, owner: number.slice(0, 3), serial: number.slice(4, 10) };
}

/**
 * The check digit of the first ten characters: letters count 10, 12, 13 ... 38 without the multiples of 11, the i-th
 * character (from 0) weighs 2^i, the sum modulo 11 is the digit and 10 is written 0 (ISO 6346).
 */
export function containerCheckDigit(firstTen: string): number {
  const sum = [...firstTen].reduce((total, character, at) => total + characterValue(character) * 2 ** at, 0);
  return (sum % 11) % 10;
}

function characterValue(character: string): number {
  if (character >= '0' && character <= '9') return Number(character);
  const place = character.charCodeAt(0) - 'A'.charCodeAt(0);
  const value = place + 10;
  // 11, 22 and 33 are left out, so later letters move on by one for each.
  return value + Math.floor((value - 1) / 10);
}
