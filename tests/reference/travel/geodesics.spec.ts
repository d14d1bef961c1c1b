import { describe, expect, it } from '@jest/globals';
import { geodesicKm } from '../../../libs/travel/src/index.ts';
import { dataFileText } from '../../builders/data-folder.ts';

describe('published geodesics, where present', () => {
  it('agree to a millimetre with 100 rows of the GeographicLib test set (Karney, Zenodo 32156)', () => {
    const text = dataFileText('geodesic', 'GeodTest-100.dat');
    if (text === null) return;
    const rows = text
      .trim()
      .split('\n')
      .map((line) => line.trim().split(/\s+/).map(Number));
    expect(rows.length).toBeGreaterThanOrEqual(100);
    const worst = Math.max(
      ...rows.map(([lat1, lon1, , lat2, lon2, , s12]) =>
        Math.abs(geodesicKm({ lat: lat1!, lon: lon1! }, { lat: lat2!, lon: lon2! }) * 1000 - s12!),
      ),
    );
    expect(worst).toBeLessThan(0.001);
  });
});
