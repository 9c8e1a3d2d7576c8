import { BadInput, type Finding } from '../base/finding.ts'
import { flatFile } from './flat-file.ts'
import { type ArtFile, type Channel, type Plane, processCount, type Rows } from './layer.ts'
import { plateNames } from './plate-name.ts'
import { processPlate } from './process-name.ts'

/** Number of the one plane that a picture of a plate has; null where it is another kind of picture. */
export function platePlane({ art }: ArtFile): number | null {
  const inks = art.channels.filter(one => one.kind === 'spot')
  switch (art.colorMode) {
    case 'Grayscale':
    case 'Bitmap':
      return inks.length === 0 ? 0 : null
    case 'Multichannel':
      return inks.length === 1 ? inks[0]!.plane : null
    default:
      return null
  }
}

const processInks = ['Cyan', 'Magenta', 'Yellow', 'Black'] as const

/**
 * Pictures of one plate each as one piece of art: dark is ink. Process plates become the flat layer, others channels by
 * the names of their files.
 * @param files  the first gives name and resolution
 * @throws BadInput where one is no plate, sizes differ, or two are of one ink
 */
export function platesAsArt(files: readonly ArtFile[]): ArtFile {
  const [first] = files
  if (first === undefined) throw new RangeError('platesAsArt: expected a file')
  const findings: Finding[] = []
  const names = plateNames(files.map(file => file.art.name))
  const { width, height } = first.art
  for (const file of files) {
    const { art } = file
    if (platePlane(file) === null)
      throw new BadInput(
        'plate-kind',
        art.name,
        'the picture',
        `a plate is one grey picture, this is ${art.colorMode} with ${processCount(art.colorMode) + art.channels.length} planes`,
        'Save it as greyscale, or leave it out.',
      )
    if (art.width !== width || art.height !== height)
      throw new BadInput(
        'plate-size',
        art.name,
        'the picture',
        `it has ${art.width} × ${art.height} pixels, "${first.art.name}" has ${width} × ${height}`,
        'Save all plates of one job in one size.',
      )
    if (art.resolutionPpi !== first.art.resolutionPpi)
      findings.push({
        severity: 'warning',
        code: 'resolution-uneven',
        where: art.name,
        message: `it gives ${art.resolutionPpi ?? 'no'} pixels an inch, "${first.art.name}" ${first.art.resolutionPpi ?? 'none'}; the latter is used`,
        fix: 'Save all plates with one resolution.',
      })
    // What no plate states is said once.
    for (const one of art.findings)
      if (one.code !== 'resolution-missing' || art === first.art)
        findings.push({ ...one, where: `${art.name}, ${one.where}` })
  }
  const inks = names.map(name => processPlate(name))
  const known = new Map<string, string>()
  for (const [i, name] of names.entries()) {
    const ink = inks[i]
    const key = ink === null || ink === undefined ? name.toLowerCase() : processInks[ink]
    const other = known.get(key)
    if (other !== undefined)
      throw new BadInput(
        'plate-twice',
        files[i]!.art.name,
        'its name',
        `it and "${other}" are both the plate of ${name}`,
        'Leave one of them out, or name it after its ink.',
      )
    known.set(key, files[i]!.art.name)
  }
  const process = inks.some(one => one !== null)
    ? processInks.map((_, ink) => inks.indexOf(ink as 0 | 1 | 2 | 3))
    : []
  const lacking = processInks.filter((_, ink) => process[ink] === -1)
  if (lacking.length > 0)
    findings.push({
      severity: 'note',
      code: 'ink-missing',
      where: 'plates',
      message: `there is no plate for ${lacking.join(', ').toLowerCase()}; none of that ink is printed`,
      fix: 'Nothing, if the job prints without it.',
    })
  const spots = names.flatMap((name, i) => (inks[i] === null ? [{ name, file: i }] : []))
  const channels = spots.map(
    ({ name, file }, i): Channel => ({
      id: `plate ${name}`,
      name,
      kind: 'spot',
      ink: null,
      opacity: files[file]!.art.channels.find(one => one.kind === 'spot')?.opacity ?? null,
      plane: process.length + i,
    }),
  )
  const sources = [...process, ...spots.map(one => one.file)]
  const depth = files.some(file => file.art.depth === 16) ? 16 : 8
  return flatFile(
    {
      name: first.art.name,
      format: 'plates',
      width,
      height,
      resolutionPpi: first.art.resolutionPpi,
      colorMode: process.length > 0 ? 'CMYK' : 'Multichannel',
      depth,
      channels,
      profile: null,
      palette: null,
      findings,
    },
    async (index, rows) => {
      const file = files[sources[index]!]
      return file === undefined
        ? empty(width, rows, depth)
        : inDepth(await file.documentPlane(platePlane(file)!, rows), depth)
    },
  )
}

function empty(width: number, rows: Rows, depth: number): Plane {
  const size = width * (rows.bottom - rows.top)
  const data = depth === 16 ? new Uint16Array(size).fill(65_535) : new Uint8Array(size).fill(255)
  return { box: { left: 0, right: width, ...rows }, data }
}

/** Plates of 8 bits beside others of 16. */
function inDepth(plane: Plane, depth: number): Plane {
  if (depth === 8 || plane.data instanceof Uint16Array) return plane
  return { box: plane.box, data: Uint16Array.from(plane.data, value => value * 257) }
}
