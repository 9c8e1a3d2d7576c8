import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { lensArt } from '../support/lens-art.ts'
import { runCli } from '../support/run-cli.ts'

const die = (name: string) => fileURLToPath(new URL(`../fixtures/dies/${name}`, import.meta.url))
let folder: string
const file = (name: string, content: string | Uint8Array) => {
  const path = join(folder, name)
  writeFileSync(path, content)
  return path
}

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-die-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('check-die', () => {
  test('a good drawing: its panels, its size, exit code 0', async () => {
    const { code, out, err } = await runCli('check-die', die('eyepiece.svg'))
    expect([code, err]).toEqual([0, ''])
    expect(out).toContain('211.5 × 210.0 mm')
    expect(out).toMatch(/yes, around front/)
    expect(out).toMatch(/13 panels/)
    expect(out).toMatch(/top left side dust flap +\d+\.\d +left side/)
    expect(out).not.toMatch(/warning|error/)
  })

  test('the same as JSON', async () => {
    const { code, out } = await runCli('check-die', die('eyepiece.svg'), '--json')
    expect(code).toBe(0)
    const found = JSON.parse(out)
    expect(found).toMatchObject({
      foldable: true,
      blank: [211.5, 210],
      origin: [20, 20],
      unit: { mm: 1, from: 'stated' },
      lines: { perforation: 1 },
      root: 'front',
    })
    expect(found.panels).toHaveLength(13)
    expect(found.hinges).toHaveLength(12)
    const front = found.panels.find(({ name }: { name: string }) => name === 'front')
    expect(front.windows).toHaveLength(1)
    // 60 × 100 less an ellipse of 18 × 12 and half a disc of 3; curves are chords that stray by at most 0.02 mm.
    const area = 6000 - Math.PI * (18 * 12 + 9 / 2)
    expect(Math.abs(front.areaMm2 - area)).toBeLessThan(0.02 * (2 * Math.PI * 18 + Math.PI * 3))
    expect(found.findings.map(({ severity }: { severity: string }) => severity)).toEqual(['note'])
  })

  test('a drawing with faults: each in words with its place, exit code 1', async () => {
    const { code, out, err } = await runCli('check-die', die('eyepiece-faults.svg'))
    expect(code).toBe(1)
    expect(err).toMatch(/^rakelight: eyepiece-faults\.svg: the die: cannot be folded \(\d faults\)\. First: /)
    expect(out).toMatch(
      /error {2}crease at x 72\.0, y 61\.0 mm: a crease does not reach: it stops 6 mm before/,
    )
    expect(out).toMatch(/error {2}crease at x 72\.0, y 150\.0 mm: .* 5 mm before/)
    expect(out).toMatch(/error {2}panel at x 172\.0, .*interrupted for 12 mm between x 211\.5/)
    expect(out).toMatch(/warning {2}line at .*lie on each other for 96\.\d mm/)
    const json = JSON.parse((await runCli('check-die', die('eyepiece-faults.svg'), '--json')).out)
    expect(json.foldable).toBe(false)
  })

  test('names, colours and units of the user', async () => {
    const svg = (await import('node:fs')).readFileSync(die('eyepiece.svg'), 'utf8')
    const odd = file(
      'odd.svg',
      svg
        .replace('id="Cutting"', 'id="Messer 1"')
        .replace('id="Creasing"', 'id="Layer 4"')
        .replace('width="251.5mm" height="250mm"', ''),
    )
    const bare = JSON.parse((await runCli('check-die', odd, '--json')).out)
    expect(bare.findings.map(({ code }: { code: string }) => code)).toContain('unit-assumed')
    const args = ['--cut', 'Messer', '--crease', '#009640,Folds', '--unit', 'mm', '--json']
    const { code, out } = await runCli('check-die', odd, ...args)
    expect(code).toBe(0)
    expect(JSON.parse(out)).toMatchObject({ blank: [211.5, 210], unit: { mm: 1, from: 'given' } })
  })

  test('art of another size', async () => {
    const check = (size: string) => runCli('check-die', die('eyepiece.svg'), '--art', size)
    expect((await check('217.5x216')).out).not.toContain('art and die')
    expect((await check('300x216')).out).toContain('larger than the die')
    expect((await check('100x100')).out).toContain('does not cover')
    expect((await check('210x211.5')).out).toContain('across')
    expect((await check('8.3268x8.2677')).out).toContain('mm and in')
  })

  test('what cannot be read says what to do', async () => {
    const run = (name: string, content: string | Uint8Array, ...more: string[]) =>
      runCli('check-die', file(name, content), ...more)
    expect(await run('a.pdf', '%PDF-1.7')).toMatchObject({
      code: 1,
      err: expect.stringContaining('export the art anew'),
    })
    expect(await run('a.svg', '<svg')).toMatchObject({
      code: 1,
      err: expect.stringContaining('not well-formed'),
    })
    expect(await run('b.svg', '')).toMatchObject({ code: 1 })
    expect(await run('lens.psd', lensArt())).toMatchObject({
      code: 1,
      err: expect.stringContaining('vector layer'),
    })
    expect(await run('c.svg', '<svg/>', '--unit', 'feet')).toMatchObject({ code: 2 })
    expect(await run('c.svg', '<svg/>', '--art', 'big')).toMatchObject({ code: 2 })
    expect(await runCli('check-die', join(folder, 'none.svg'))).toMatchObject({ code: 1 })
    expect((await runCli('help', 'check-die')).out).toContain('--crease NAMES')
  })
})
