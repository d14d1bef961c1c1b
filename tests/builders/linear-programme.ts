/** A small mixed-integer programme that is written out in the CPLEX LP format, which HiGHS reads. To be minimised. */
export class LinearProgramme {
  private readonly costs = new Map<string, number>();
  private readonly binaries: string[] = [];
  private readonly rows: string[] = [];

  get columnCount(): number {
    return this.costs.size;
  }

  binary(name: string, cost: number): void {
    this.continuous(name, cost);
    this.binaries.push(name);
  }

  /** A column of at least 0. */
  continuous(name: string, cost: number): void {
    if (this.costs.has(name)) throw new RangeError(`column ${name} twice`);
    this.costs.set(safe(name), cost);
  }

  addCost(name: string, cost: number): void {
    this.costs.set(safe(name), (this.costs.get(safe(name)) ?? 0) + cost);
  }

  row(
    name: string,
    terms: readonly (readonly [string, number])[],
    sense: '=' | '<=' | '>=',
    right: number,
  ): void {
    if (terms.length === 0) {
      if (sense === '<=' ? 0 <= right : sense === '>=' ? 0 >= right : right === 0) return;
      throw new RangeError(`row ${name} cannot hold`);
    }
    this.rows.push(`${safe(name)}: ${sum(terms)} ${sense} ${right}`);
  }

  text(): string {
    const objective = sum([...this.costs].filter(([, cost]) => cost !== 0));
    return [
      'Minimize',
      `obj: ${objective}`,
      'Subject To',
      ...this.rows,
      'Binary',
      ...this.binaries.map((name) => safe(name)),
      'End',
    ].join('\n');
  }
}

/** Names of the LP format know no dash. */
function safe(name: string): string {
  return name.replaceAll('-', '.');
}

function sum(terms: readonly (readonly [string, number])[]): string {
  const lines: string[] = [];
  for (let at = 0; at < terms.length; at += 8) {
    lines.push(
      terms
        .slice(at, at + 8)
        .map(([name, factor]) => `${factor < 0 ? '-' : '+'} ${Math.abs(factor)} ${safe(name)}`)
        .join(' '),
    );
  }
  return lines.join('\n');
}
