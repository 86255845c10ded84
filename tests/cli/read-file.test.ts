import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readText } from '../../src/cli/read-file.ts';

let base: string;
beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), 'sixamp-read-'));
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

/** Writes bytes and reads them back as the command would. */
function readBack(bytes: Uint8Array | string, maxBytes = 1_000_000): Promise<string> {
  const path = join(base, 'file');
  writeFileSync(path, bytes);
  return readText(path, 'file', maxBytes);
}

describe('readText', () => {
  test('UTF-8, with and without a byte order mark; Latin-1 where it is no UTF-8', async () => {
    expect(await readBack('Zürich')).toBe('Zürich');
    expect(await readBack('\uFEFFZürich')).toBe('Zürich');
    expect(await readBack(Buffer.from('Zürich', 'latin1'))).toBe('Zürich');
  });

  test('gzip is unpacked, whatever the name', async () => {
    expect(await readBack(gzipSync('time,pv_w\n'))).toBe('time,pv_w\n');
  });

  test('limits hold packed and unpacked', async () => {
    await expect(readBack('x'.repeat(1001), 1000)).rejects.toMatchObject({ issue: { code: 'file-too-large' } });
    await expect(readBack(gzipSync('x'.repeat(100_000)), 1000)).rejects.toMatchObject({ issue: { code: 'file-too-large' } });
  });

  test('cut gzip, pictures, folders, nothing', async () => {
    await expect(readBack(gzipSync('x'.repeat(1000)).subarray(0, 20))).rejects.toMatchObject({
      issue: { code: 'file-not-unpacked' },
    });
    await expect(readBack(Uint8Array.of(0x89, 0x50, 0, 0))).rejects.toMatchObject({ issue: { code: 'file-not-text' } });
    await expect(readText(base, 'folder', 1e6)).rejects.toThrow('This is a folder, not a file.');
    await expect(readText(join(base, 'none'), 'none', 1e6)).rejects.toThrow('There is no such file.');
  });
});
