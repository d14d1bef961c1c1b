/**
 * The never-rising sequence nearest to the given one in weighted least squares: neighbours that rise are pooled to their
 * weighted mean until none does. Weights above 0. Source: Ayer, Brunk, Ewing, Reid and Silverman 1955, Ann. Math. Stat. 26,
 * 641-647 (pool adjacent violators).
 */
export function fallingFit(values: readonly number[], weights: readonly number[]): number[] {
  const pools: { mean: number; weight: number; count: number }[] = [];
  values.forEach((value, index) => {
    let pool = { mean: value, weight: weights[index] as number, count: 1 };
    for (let last = pools.at(-1); last !== undefined && last.mean < pool.mean; last = pools.at(-1)) {
      const weight = last.weight + pool.weight;
      const mean = (last.mean * last.weight + pool.mean * pool.weight) / weight;
      pool = { mean, weight, count: last.count + pool.count };
      pools.pop();
    }
    pools.push(pool);
  });
  return pools.flatMap(({ mean, count }) => new Array<number>(count).fill(mean));
}
