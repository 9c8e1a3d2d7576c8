import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { putOutline, setEffect, setOverlay, setWhite } from '../../core/job/edit.ts'
import { jobText, parseJob } from '../../core/job/parse.ts'
import { addVariant, chooseVariant, keptInVariant } from '../../core/job/variants.ts'
import { lensArt } from '../support/lens-art.ts'
import { launchCli, runCli } from '../support/run-cli.ts'
import { type TiffWish, tiffBytes } from '../support/tiff-bytes.ts'

let folder: string
const rakelight = runCli
const here = process.cwd()
const fixture = (name: string) => fileURLToPath(new URL(`../fixtures/art/${name}`, import.meta.url))
const write = (name: string, value: unknown) =>
  writeFileSync(join(folder, name), typeof value === 'string' ? value : JSON.stringify(value))

interface Order {
  readonly m: number
  readonly wavelengthNm: number
  readonly bandNm: number
  readonly efficiency: number
}
interface ProbeJson {
  readonly orders: readonly Order[]
  readonly XYZ: readonly [number, number, number]
  readonly Lab: readonly [number, number, number]
  readonly sRGB: readonly [number, number, number]
  readonly mirrorXYZ: readonly [number, number, number]
  readonly glossXYZ: readonly [number, number, number]
  readonly diffuseXYZ: readonly [number, number, number]
  readonly stack: {
    readonly cmyk: readonly number[]
    readonly whites: readonly unknown[]
    readonly gratings: readonly unknown[]
  }
}

async function probe(...args: string[]): Promise<ProbeJson> {
  const { code, out, err } = await rakelight('probe', ...args, '--json')
  if (code !== 0) throw new Error(err)
  return JSON.parse(out) as ProbeJson
}

const grating = { pitchNm: 1000, azimuthDeg: 90, grooveDepthNm: 100, shape: 'sinusoid', share: 1 }
const bare = { grating, white: null, cmyk: [0, 0, 0, 0] }

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-cli-'))
  process.chdir(folder)
  writeFileSync(join(folder, 'lens.psd'), lensArt())
  write('foil.json', bare)
  await rakelight('job', 'lens.psd', '-o', 'lens.job.json')
})

afterAll(() => {
  process.chdir(here)
  rmSync(folder, { recursive: true, force: true })
})

describe('inspect', () => {
  test('prints the agreed fields as JSON', async () => {
    const { code, out, err } = await rakelight('inspect', 'lens.psd', '--json')
    expect([code, err]).toEqual([0, ''])
    const found = JSON.parse(out)
    expect(found).toMatchObject({ width: 120, height: 80, resolutionPpi: 300, colorMode: 'CMYK', depth: 8 })
    expect(found.layers).toMatchObject([
      {
        name: 'Holo lens rings',
        kind: 'pixel',
        parent: null,
        bounds: { left: 0, top: 0, right: 60, bottom: 80 },
        role: 'holography',
      },
      { name: 'Ink', bounds: { left: 60, top: 0, right: 120, bottom: 80 }, role: 'overprint' },
    ])
    for (const layer of found.layers) expect(layer.reason).toMatch(/\w/)
    expect(found.channels).toMatchObject([{ name: 'White', kind: 'spot', opacity: 0.5, role: 'white' }])
    expect(found.findings).toBeInstanceOf(Array)
  })

  // The names of the files, which other programs saved in these modes and depths (psd-tools test data).
  test.each([
    ['psd-tools__colormodes_4x4_8bit_cmyk.psd', 'CMYK', 8],
    ['psd-tools__colormodes_4x4_8bit_duotone.psd', 'Duotone', 8],
    ['psd-tools__colormodes_4x4_8bit_lab.psd', 'Lab', 8],
    ['psd-tools__colormodes_4x4_16bit_lab.psd', 'Lab', 16],
    ['psd-tools__colormodes_4x4_16bit_multichannel.psd', 'Multichannel', 16],
  ])('%s', async (name, colorMode, depth) => {
    const { out } = await rakelight('inspect', fixture(name), '--json')
    expect(JSON.parse(out)).toMatchObject({ width: 4, height: 4, colorMode, depth })
  })

  test('a layer in a group names its group; group ends are no layers', async () => {
    const { out } = await rakelight('inspect', fixture('psd-tools__broken-groups.psd'), '--json')
    const layers: { id: string; name: string; kind: string; parent: string | null }[] = JSON.parse(out).layers
    expect(layers.map(layer => layer.kind).toSorted()).toEqual(['group', 'group', 'pixel', 'pixel'])
    const groups = layers.filter(layer => layer.kind === 'group').map(layer => layer.id)
    for (const layer of layers.filter(one => one.kind === 'pixel')) expect(groups).toContain(layer.parent)
  })

  test('prints tables for people', async () => {
    const { out } = await rakelight('inspect', 'lens.psd')
    expect(out).toContain('120 × 80 px, 10.2 × 6.8 mm')
    expect(out).toMatch(/Holo lens rings +pixels +0, 0 to 60, 80 +holography +name has "holo"/)
    expect(out).toMatch(/White +spot +CMYK 0 0 0 0 +50 % +white/)
    expect(out).not.toMatch(/ $/m)
  })

  test('an image with a drawing over it, and plates of a folder, are one piece of art each', async () => {
    const plate = (width: number): TiffWish => ({
      ...{ width, height: 20, samples: 1, bits: 8, photometric: 1 },
      value: x => (x < 10 ? 0 : 255),
    })
    mkdirSync(join(folder, 'lid'))
    for (const ink of ['Cyan', 'White', 'Holo'])
      writeFileSync(join(folder, 'lid', `lid_${ink}.tif`), tiffBytes([plate(30)]))
    write(
      'lid.svg',
      '<svg xmlns="http://www.w3.org/2000/svg" width="2.54mm" height="1.6933mm" viewBox="0 0 30 20"><g id="Dieline"><path d="M1 1H29V19H1Z" fill="none" stroke="#f0f"/></g></svg>',
    )
    const plates = await rakelight('inspect', 'lid')
    expect(plates.out).toMatch(/^No layers; the picture as a whole is overprint/m)
    expect(plates.out).toMatch(/White +spot +white/)
    const both = await rakelight('inspect', 'lid/lid_Cyan.tif', '--beside', 'lid.svg')
    expect(both.out).toMatch(/^2 layers, top first\n[^\n]+\n {2}Dieline +shape .* dieline/m)
    expect(both.out).toMatch(/Flattened picture +picture/)
  })
})

describe('job', () => {
  test('writes a job with the parts it found, naming the art from where the job lies', async () => {
    mkdirSync(join(folder, 'jobs'), { recursive: true })
    const { code, err } = await rakelight('job', 'lens.psd', '-o', 'jobs/front.job.json')
    expect(code).toBe(0)
    expect(err).toBe('Wrote jobs/front.job.json with 3 parts.\n')
    const job = parseJob(readFileSync(join(folder, 'jobs/front.job.json'), 'utf8'), 'front.job.json')
    expect(job.art?.path).toBe('../lens.psd')
    expect(job.panel).toEqual({ widthMm: 10.16, heightMm: 6.773, resolutionPpi: 300 })
    expect(job.found.map(one => one.role)).toEqual(['holography', 'overprint', 'white'])
  })

  test('does not write over the art', async () => {
    const { code, err } = await rakelight('job', 'lens.psd', '-o', './lens.psd')
    expect([code, err]).toEqual([
      1,
      'rakelight: ./lens.psd: the path: is the art itself. Choose another name\n',
    ])
  })

  test('a folder that is not there is said', async () => {
    const { code, err } = await rakelight('job', 'lens.psd', '-o', 'nowhere/x.json')
    expect(code).toBe(1)
    expect(err).toContain('the folder is not there')
  })
})

describe('probe --material', () => {
  // The grating equation at normal viewing, λ = d sin θ / m: worked values of handbook tables,
  // 1000 lines/mm lit at 30° shows 500.0 nm and at 45° 707.1 nm.
  test.each([
    [60, 500.0],
    [45, 707.1],
  ])('lamp at elevation %i°', async (elevation, wavelength) => {
    const { orders } = await probe('--material', 'foil.json', '--lamp', `90,${elevation},400,4`)
    expect(orders.map(order => order.m)).toEqual([1])
    expect(Math.abs(orders[0]!.wavelengthNm - wavelength)).toBeLessThanOrEqual(0.05)
  })

  test('the order has the sign of lamp and eye along the grating', async () => {
    const [above] = (await probe('--material', 'foil.json', '--lamp', '90,60,400,4')).orders
    const [below] = (await probe('--material', 'foil.json', '--lamp', '-90,60,400,4')).orders
    expect([above?.m, below?.m]).toEqual([1, -1])
    expect(below?.efficiency).toBeCloseTo(above!.efficiency, 12)
  })

  test('weak orders are listed too', async () => {
    write('coarse.json', { ...bare, grating: { ...grating, pitchNm: 4000, grooveDepthNm: 5 } })
    const { orders } = await probe('--material', 'coarse.json', '--lamp', '90,60,400,4')
    // λ = 4000 nm · ½ / m: 666.7, 500, 400 nm.
    expect(orders.map(order => order.m)).toEqual(expect.arrayContaining([3, 4, 5]))
    expect(Math.min(...orders.map(order => order.efficiency))).toBeLessThan(1e-6)
  })

  test('turning lamp, eye and grating together changes nothing', async () => {
    write('turned.json', { ...bare, grating: { ...grating, azimuthDeg: 37 } })
    const turned = await probe('--material', 'turned.json', '--lamp', '37,60,400,4', '--eye', '-53,80,300')
    const straight = await probe('--material', 'foil.json', '--lamp', '90,60,400,4', '--eye', '0,80,300')
    turned.XYZ.forEach((value, i) => {
      expect(value).toBeCloseTo(straight.XYZ[i]!, 6)
    })
  })

  test('a white that hides all hides the grating', async () => {
    const white = { coverage: 1, opacity: 1, hits: 1 }
    write('hidden.json', { ...bare, white })
    write('board.json', { ...bare, white, grating: null })
    const hidden = await probe('--material', 'hidden.json')
    expect(hidden.XYZ).toEqual((await probe('--material', 'board.json')).XYZ)
    write('veiled.json', { ...bare, white: { ...white, opacity: 0.2 } })
    write('veil.json', { ...bare, white: { ...white, opacity: 0.2 }, grating: null })
    const veiled = await probe('--material', 'veiled.json')
    const veil = await probe('--material', 'veil.json')
    expect(veiled.XYZ[1]).toBeGreaterThan(veil.XYZ[1] * 1.1)
  })

  // ASTM D589 / TAPPI T425: opacity = 100 R over black / R over 0.89; asked for within 1 %.
  test('a white over black and over 0.89 reads back the opacity that was entered', async () => {
    const at45 = ['--lamp', '0,45,400,4', '--illuminant', 'D50']
    const over = async (chart: string) =>
      (await probe('--material', 'foil.json', '--white', '1,0.6,1', '--chart', chart, ...at45)).diffuseXYZ[1]
    expect(Math.abs((await over('0')) / (await over('0.89')) / 0.6 - 1)).toBeLessThan(0.01)
    const { code, err } = await rakelight('probe', '--material', 'foil.json', '--white', '1,101,1')
    expect(code).toBe(2)
    expect(err).toContain('--white: opacity: expected a part from 0 to 1 (60 % is 0.6), got 101')
  })

  test('screen values lie in 0..1, mirror and gloss are told apart', async () => {
    const { sRGB, mirrorXYZ, glossXYZ } = await probe(
      '--material',
      'foil.json',
      '--lamp',
      '90,80,400,4',
      '--eye',
      '-90,80,400',
    )
    for (const value of sRGB) {
      expect(value).toBeGreaterThanOrEqual(0)
      expect(value).toBeLessThanOrEqual(1)
    }
    expect(mirrorXYZ[1]).toBeGreaterThan(1)
    expect(glossXYZ[1]).toBeGreaterThan(0)
  })

  test('prints tables for people, tilt from straight-on and lines a millimetre', async () => {
    const { out } = await rakelight('probe', '--material', 'foil.json', '--lamp', '-90,60,400,4')
    expect(out).toContain('D65, 30.0° from straight-on, azimuth −90.0°')
    expect(out).toContain('1000 nm (1000 lines/mm)')
    expect(out).toMatch(/−1 +500\.0/)
  })

  test.each([
    [{ ...bare, cmyk: [0, 0, 0, 100] }, 'field "cmyk.3": expected a number from 0 to 1, got 100'],
    [{ ...bare, grating: { ...grating, pitchNm: 0 } }, 'field "grating.pitchNm"'],
    [{ ...bare, grating: { ...grating, shape: 'round' } }, 'one of sinusoid, rectangular, blazed, sampled'],
    [{ ...bare, grating: { ...grating, pitchNm: -900 } }, 'field "grating.pitchNm"'],
    [{ ...bare, grating: { ...grating, pitchNm: 6000 } }, 'needs a spreadPercent of at least 25'],
    [{ ...bare, grating: { ...grating, pitchNm: 420, grooveDepthNm: 211 } }, 'deeper than half of the pitch'],
    [{ ...bare, grating: { ...grating, shape: 'sampled' } }, 'needs the list "heights"'],
    [{ grating }, 'field "white"'],
    ['{', 'line 1, column 2: is not JSON'],
  ])('%j is refused', async (material, says) => {
    write('wrong.json', material)
    const { code, err } = await rakelight('probe', '--material', 'wrong.json')
    expect(code).toBe(1)
    expect(err).toContain(says.startsWith('field') || says.startsWith('line') ? `wrong.json: ${says}` : says)
  })

  test.each([
    ['90,0,400,4', 'lies in the plane of the panel'],
    ['90,-20,400,4', 'not on the print side'],
    ['90,60,0,4', 'inside the panel'],
    ['90,60,10,30', 'reaches into the panel'],
  ])('a lamp at %s is refused', async (lamp, says) => {
    const { code, err } = await rakelight('probe', '--material', 'foil.json', '--lamp', lamp)
    expect(code).toBe(1)
    expect(err).toContain(says)
  })
})

describe('probe JOB', () => {
  test('prints the stack at a place, y up', async () => {
    const lower = await probe('lens.job.json', '--x', '2', '--y', '1')
    expect(lower.stack).toMatchObject({ cmyk: [0, 0, 0, 0], whites: [{ coverage: 0 }] })
    expect(lower.stack.gratings).toHaveLength(1)
    const upper = await probe('lens.job.json', '--x', '8', '--y', '6')
    expect(upper.stack).toMatchObject({ cmyk: [1, 0, 0, 0], whites: [{ coverage: 1 }], gratings: [] })
  })

  test('takes the white that the job measured', async () => {
    const job = parseJob(readFileSync(join(folder, 'lens.job.json'), 'utf8'), 'lens.job.json')
    const white = job.found.find(one => one.role === 'white')!
    write(
      'measured.job.json',
      jobText(
        setWhite({
          target: white.target,
          opacity: { from: 'contrast', value: 0.8 },
          hits: 2,
          mottle: 0,
          screen: 'dots',
          toneGain: 0,
        })(job),
      ),
    )
    const { stack } = await probe('measured.job.json', '--x', '8', '--y', '6')
    expect(stack.whites).toMatchObject([{ coverage: 1, opacity: 0.8, hits: 2 }])
  })

  test('--design reads one design by its name, and a wrong name is answered with those there are', async () => {
    const job = addVariant('Print-led')(parseJob(readFileSync(join(folder, 'lens.job.json'), 'utf8'), 'x'))
    const { target } = job.found.find(one => one.role === 'holography')!
    const bare = { kind: 'plain', parameters: { sharePercent: 0 } }
    const print = keptInVariant(job, { ...job, effects: [{ target, effect: bare }] })
    write('designs.job.json', jobText(chooseVariant(null)(print)))
    const at = ['designs.job.json', '--x', '2', '--y', '2'] as const
    expect((await probe(...at)).stack.gratings).toHaveLength(1)
    expect((await probe(...at, '--design', 'Base')).stack.gratings).toHaveLength(1)
    expect((await probe(...at, '--design', 'Print-led')).stack.gratings).toHaveLength(0)
    const refused = await rakelight('probe', ...at, '--design', 'print-led')
    expect(refused.code).toBe(1)
    expect(refused.err).toContain('there is no design "print-led". Choose one of "Base", "Print-led"')
    write('twins.job.json', jobText({ ...print, variants: [...print.variants, ...print.variants] }))
    const twins = await rakelight('probe', 'twins.job.json', '--x', '2', '--y', '2', '--design', 'Print-led')
    expect(twins.err).toContain('2 designs are called "Print-led"')
  })

  test('of a job whose leaves lie apart it says what the picture has there, and that the rest is the print', async () => {
    const job = parseJob(readFileSync(join(folder, 'lens.job.json'), 'utf8'), 'x')
    write('proof.job.json', jobText(setOverlay({ laid: 'film' }, { registerMm: [0.3, 0] })(job)))
    const at = ['--x', '8', '--y', '6'] as const
    const read = async (name: string) => {
      const { out } = await rakelight('probe', name, ...at, '--json')
      return JSON.parse(out) as ProbeJson & {
        readonly pictured: { readonly reads: string; readonly XYZ: readonly number[] } | null
      }
    }
    const [print, proof] = [await read('lens.job.json'), await read('proof.job.json')]
    expect(print.pictured).toBeNull()
    expect(proof.XYZ).toEqual(print.XYZ)
    expect(proof.pictured!.reads).toBe('film proof')
    const { out } = await rakelight('probe', 'proof.job.json', ...at)
    expect(out).toContain('The picture has it otherwise: film proof')
    expect(out).toContain(proof.pictured!.XYZ[1]!.toFixed(4))
    const other = await rakelight('probe', 'proof.job.json', ...at, '--illuminant', 'A', '--json')
    expect(JSON.parse(other.out).pictured).toBeNull()
  })

  test('an effect that this version does not know, and an area that lies nowhere, are said', async () => {
    const job = parseJob(readFileSync(join(folder, 'lens.job.json'), 'utf8'), 'x')
    const { target } = job.found.find(one => one.role === 'holography')!
    const ring = [
      [900, 900],
      [910, 900],
      [910, 910],
    ] as const
    const far = putOutline({ id: 'far', name: 'Far', rings: [ring] })(job)
    const aurora = setEffect(target, { kind: 'aurora', parameters: {} })(far)
    const both = setEffect({ kind: 'outline', id: 'far' }, { kind: 'plain', parameters: {} })(aurora)
    write('aurora.job.json', jobText(both))
    const { code, err } = await rakelight('probe', 'aurora.job.json', '--x', '2', '--y', '2')
    expect(code).toBe(0)
    expect(err).toContain('its effect "aurora" is not known to this version')
    expect(err).toContain('outline "Far": it lies outside the panel')
  })

  test('a place off the panel is refused', async () => {
    const { code, err } = await rakelight('probe', 'lens.job.json', '--x', '-1', '--y', '2')
    expect(code).toBe(1)
    expect(err).toContain('x -1 mm, y 2 mm')
  })

  test('art outside the job’s folder is read only when asked', async () => {
    mkdirSync(join(folder, 'far'), { recursive: true })
    await rakelight('job', 'lens.psd', '-o', 'far/x.job.json')
    const refused = await rakelight('probe', 'far/x.job.json', '--x', '2', '--y', '1')
    expect(refused.code).toBe(1)
    expect(refused.err).toContain("outside the job's folder")
    const read = await rakelight('probe', 'far/x.job.json', '--x', '2', '--y', '1', '--allow-outside')
    expect(read.code).toBe(0)
  })

  test('art that changed is used and said, art that is gone is refused', async () => {
    mkdirSync(join(folder, 'moved'), { recursive: true })
    writeFileSync(join(folder, 'moved/lens.psd'), lensArt())
    await rakelight('job', 'moved/lens.psd', '-o', 'moved/x.job.json')
    writeFileSync(join(folder, 'moved/lens.psd'), lensArt('Dye'))
    const changed = await rakelight('probe', 'moved/x.job.json', '--x', '2', '--y', '1')
    expect(changed.code).toBe(0)
    expect(changed.err).toContain('lens.psd has changed since the job was saved')
    rmSync(join(folder, 'moved/lens.psd'))
    const gone = await rakelight('probe', 'moved/x.job.json', '--x', '2', '--y', '1')
    expect(gone.code).toBe(1)
    expect(gone.err).toContain('the art "lens.psd" is not there')
  })
})

describe('what cannot be understood', () => {
  test.each([
    [[], 'no command is given'],
    [['polish'], 'there is no command "polish"'],
    [['inspect'], 'ART is missing'],
    [['inspect', 'lens.psd', 'more.psd'], 'one argument too many'],
    [['inspect', 'lens.psd', '--colour'], 'there is no flag --colour'],
    [['job', 'lens.psd'], '-o FILE is missing'],
    [['probe'], 'JOB or --material FILE is missing'],
    [['probe', 'lens.job.json'], 'needs --x and --y'],
    [['probe', 'lens.job.json', '--x', 'left', '--y', '1'], '--x: expected a number, got "left"'],
    [['probe', '--material', 'foil.json', '--lamp', '1,2,3'], 'expected az,el,distance_mm,diameter_mm'],
    [['probe', '--material', 'foil.json', '--lamp'], '--lamp needs a value'],
    [['probe', '--material', 'foil.json', '--illuminant', 'F2'], 'expected D50, D65, A'],
    [['probe', '--material', 'foil.json', '--json=yes'], '--json takes no value'],
    [['frames', 'lens.job.json', '--out', 'f', '--frames', '0', '--size', '8x8'], 'a whole number from 1'],
    [['frames', 'lens.job.json', '--out', 'f', '--frames', '2', '--size', '8'], 'expected WxH'],
    [['frames', 'lens.job.json', '--out', 'f', '--frames', '2', '--size', '8x99999'], 'at most 16384'],
  ])('%j', async (args, says) => {
    const { code, out, err } = await rakelight(...args)
    expect([code, out]).toEqual([2, ''])
    expect(err).toContain(says)
  })
})

describe('input that cannot be used', () => {
  test.each([
    ['a folder', ['inspect', '.'], 'is a folder'],
    ['a missing file', ['inspect', 'gone.psd'], 'gone.psd: the file: is not there'],
    ['art as a job', ['probe', 'lens.psd', '--x', '1', '--y', '1'], 'lens.psd: the file: is not text'],
    ['a job as art', ['inspect', 'lens.job.json'], 'lens.job.json: '],
  ] as const)('%s: one line on standard error, exit 1, no stack', async (_, args, says) => {
    const { code, out, err } = await rakelight(...args)
    expect([code, out]).toEqual([1, ''])
    expect(err).toContain(says)
    expect(err.trim().split('\n')).toHaveLength(1)
    expect(err).not.toMatch(/\bat .*:\d+:\d+/)
  })

  test('a job of a newer version', async () => {
    write('late.job.json', { format: 'rakelight-job', version: 99 })
    const { code, err } = await rakelight(
      'frames',
      'late.job.json',
      '--out',
      'f',
      '--frames',
      '1',
      '--size',
      '8x8',
    )
    expect(code).toBe(1)
    expect(err).toMatch(/late\.job\.json: field "version": was saved by a newer rakelight.*Update rakelight/)
  })
})

test('help names every command and flag', async () => {
  const { out } = await rakelight('help')
  for (const name of [
    'inspect ART',
    'job ART -o FILE',
    'probe',
    'frames JOB --out DIR --frames N --size WxH',
  ])
    expect(out).toContain(name)
  expect((await rakelight('frames', '--help')).out).toContain('--path NAME')
  expect((await rakelight('--version')).out).toMatch(/^\d+\.\d+\.\d+\n$/)
})

test('the launcher passes arguments, output and exit code on', async () => {
  const good = await launchCli(
    'probe',
    '--material',
    join(folder, 'foil.json'),
    '--lamp',
    '-90,60,400,4',
    '--json',
  )
  expect([good.code, good.err]).toEqual([0, ''])
  expect(JSON.parse(good.out).orders[0].m).toBe(-1)
  const bad = await launchCli('inspect', folder)
  expect([bad.code, bad.out]).toEqual([1, ''])
  expect(bad.err).toContain('is a folder')
  expect((await launchCli('polish')).code).toBe(2)
})
