import { checkCancelled, type Task } from '../base/task.ts'
import { fileStem, proofLabel } from '../proof/names.ts'
import type { InkPlate } from './ink-plate.ts'
import type { PackedPlane } from './packed-plane.ts'
import type { PlateSheet } from './plate-sheet.ts'
import { type MadePlates, type PlateLabel, type Reading, readings } from './plate-wish.ts'
import { type TiffHead, writeTiff } from './tiff.ts'

/** A plate that is written as a picture. */
export interface PlatePicture {
  readonly name: string
  readonly plane: PackedPlane
  readonly reading: Reading
}

/**
 * A grey picture of each plate, 255 = solid, and one of all inks of a reading; mirrored where that is wrong.
 * @param pictures one or more, all of one size
 */
export function plateTiffs(
  pictures: readonly PlatePicture[],
  inks: readonly (InkPlate & { readonly reading: Reading })[],
  { art }: PlateSheet,
  label: PlateLabel,
  task: Task,
): MadePlates['files'] {
  const { width, height } = pictures[0]!.plane
  const head = {
    width,
    height,
    depth: 8,
    icc: null,
    pixelsPerMm: [width / art[0], height / art[1]],
    packed: 'deflate',
    software: `rakelight ${label.program}`,
    madeAt: label.madeAt.slice(0, 19).replaceAll('-', ':').replace('T', ' '),
  } satisfies Partial<TiffHead>
  const together = readings
    .map(reading => inks.filter(ink => ink.reading === reading))
    .filter(some => some.length > 1)
  const count = pictures.length + together.length
  const step = (i: number) => (done: number) => {
    checkCancelled(task)
    task.progress?.((i + done) / count, 'Writing pictures')
  }
  const said = (what: string, reading: Reading) =>
    `${label.jobName}: ${what}; 255 = solid, 0 = nothing; ${reading} reading; version ${label.version}; ${proofLabel}`
  const names = fileWords(pictures.map(({ name }) => name))
  const out = pictures.map(({ name, plane, reading }, i) => ({
    name: `${fileStem(label.jobName)}.${names[i]!}.tif`,
    plate: name,
    bytes: writeTiff(
      { ...head, color: { kind: 'grey', white: 'zero' }, description: said(`plate ${name}`, reading) },
      (top, bottom) => turned(plane.rows(top, bottom), width, reading),
      step(i),
    ),
  }))
  const joined = together.map((some, i) => {
    // C, M, Y, K stand first, so that readers who know no other inks show these.
    const order = [...some].sort((a, b) => Number(b.kind === 'process') - Number(a.kind === 'process'))
    const { reading } = order[0]!
    const word = together.length > 1 ? `inks ${reading} reading` : 'inks'
    return {
      name: `${fileStem(label.jobName)}.${word}.tif`,
      plate: null,
      bytes: writeTiff(
        {
          ...head,
          color: { kind: 'inks', names: order.map(({ name }) => name) },
          description: said('all inks of one reading', reading),
        },
        (top, bottom) =>
          interleaved(order.map(({ plane }) => turned(plane.rows(top, bottom), width, reading))),
        step(pictures.length + i),
      ),
    }
  })
  return [...out, ...joined]
}

function turned(rows: Uint8Array, width: number, reading: Reading): Uint8Array {
  if (reading === 'right') return rows
  for (let at = 0; at < rows.length; at += width) rows.subarray(at, at + width).reverse()
  return rows
}

function interleaved(planes: readonly Uint8Array[]): Uint8Array {
  const out = new Uint8Array(planes[0]!.length * planes.length)
  for (const [c, plane] of planes.entries())
    for (let i = 0, at = c; i < plane.length; i++, at += planes.length) out[at] = plane[i]!
  return out
}

/** A name as part of a file's name on any system. */
function fileWord(name: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is taken out
  const word = name.replace(/[\u0000-\u001f\u007f<>:"/\\|?*]+/g, '-').replace(/^[. ]+|[. ]+$/g, '')
  return [...word].slice(0, 80).join('') || 'plate'
}

/** The same for several, none twice. */
function fileWords(names: readonly string[]): readonly string[] {
  const taken = new Set(['inks', 'inks right reading', 'inks wrong reading', 'plates'])
  return names.map(name => {
    const base = fileWord(name)
    let free = base
    for (let n = 2; taken.has(free.toLowerCase()); n++) free = `${base} ${n}`
    taken.add(free.toLowerCase())
    return free
  })
}
