import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { main } from '../../electron/cli.ts'
import { build } from '../../scripts/build.mjs'
import { type Inked, layeredPdf } from '../support/layered-pdf.ts'

const pdf = 'tests/fixtures/art/built__separations-ocg-iso19593.pdf'
const tiff = 'tests/fixtures/art/TwelveMonkeys__depth_flower-separated-contig-08.tif'

async function rakelight(...argv: readonly string[]) {
  const said = { out: '', err: '' }
  const into = (stream: 'out' | 'err') => ({
    write: (text: string) => {
      said[stream] += text
    },
  })
  const code = await main(argv, { out: into('out'), err: into('err') })
  return { code, ...said }
}

describe('channels', () => {
  test('lists every ink of a PDF by name, with how much of it there is and its part', async () => {
    for (const part of ['workers', 'fonts', 'codecs', 'press']) await build(part)
    const { code, out } = await rakelight('channels', pdf, '--ppi', '100', '--json')
    expect(code).toBe(0)
    const { channels } = JSON.parse(out)
    expect(
      channels.map((one: { name: string; kind: string; role: string }) => [one.name, one.kind, one.role]),
    ).toEqual([
      ['Cyan', 'process', null],
      ['Magenta', 'process', null],
      ['Yellow', 'process', null],
      ['Black', 'process', null],
      ['Holo', 'spot', 'ignore'],
      ['White', 'spot', 'white'],
      ['Dieline', 'spot', 'ignore'],
    ])
    // The separation renderer of the system: 28.4 % of white at 100 ppi (gs 10.0 -sDEVICE=tiffsep -r100 -dUseBleedBox).
    expect(channels[5].coverage).toBeCloseTo(0.284, 2)
    expect(channels[5].alternate).toEqual({ space: 'CMYK', values: [0, 0.1, 0, 0] })
  })

  test('has the same process inks in whichever format the demo comes', async () => {
    const inks = async (...argv: readonly string[]): Promise<readonly number[]> => {
      const { out } = await rakelight('channels', ...argv, '--json')
      const found: readonly { readonly kind: string; readonly coverage: number }[] = JSON.parse(out).channels
      return found.filter(one => one.kind === 'process').map(one => one.coverage)
    }
    const layered = await inks('demo-assets/demo.psd')
    expect(layered).toHaveLength(4)
    for (const other of [
      await inks('demo-assets/demo.pdf'),
      await inks('demo-assets/demo.tif', '--beside', 'demo-assets/demo.svg'),
    ])
      for (const [i, coverage] of layered.entries()) expect(other[i]).toBeCloseTo(coverage, 2)
  }, 120_000)

  test('solidity and printing order that the file states stand in the table', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'rakelight-channels-'))
    const place = join(folder, 'front.pdf')
    const parts = ['White', 'Gold'].map(
      (ink, i): Inked => ({ layer: ink, ink, box: [10 + 30 * i, 10, 20, 20] }),
    )
    const hints = '/MixingHints << /Solidities << /White 0.85 >> /PrintingOrder [/Gold /White] >>'
    try {
      writeFileSync(place, layeredPdf(parts, hints))
      const { out } = await rakelight('channels', place, '--ppi', '72')
      expect(out).toMatch(/Solidity +Printed as +Part/)
      expect(out).toMatch(/White +spot .* 85 % +2 +white/)
      expect(out).toMatch(/Gold +spot .* 1 +spot ink/)
    } finally {
      rmSync(folder, { recursive: true, force: true })
    }
  }, 60_000)

  test('of a TIFF as a table; what a flag cannot mean is said', async () => {
    const { out } = await rakelight('channels', tiff)
    expect(out).toMatch(/4 inks\n {2}Name/)
    expect((await rakelight('channels', pdf, '--ppi', '9')).code).toBe(2)
    const away = await rakelight('channels', pdf, '--page', '2')
    expect([away.code, away.err]).toEqual([1, expect.stringContaining('page')])
  })
})
