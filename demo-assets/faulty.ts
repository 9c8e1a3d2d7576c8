/**
 * The demo carton with faults that checks must find. Each is planted alone, by art of its own or by an edit of the job;
 * `faults` says what was done and what must be said of it.
 */

import type { Art } from '../core/art/layer.ts'
import { readArt } from '../core/art/read.ts'
import { memorySource } from '../core/base/source.ts'
import type { CheckName } from '../core/checks/finding.ts'
import { cartonFor } from '../core/job/carton.ts'
import { setCarton, setEffect, setRole } from '../core/job/edit.ts'
import { putMark, setLimit } from '../core/job/edit-checks.ts'
import type { Job } from '../core/job/job.ts'
import { jobText } from '../core/job/parse.ts'
import { type PsdGroup, type PsdLayer, writePsd } from '../tests/support/psd-write.ts'
import { type DemoArt, drawArt, patch } from './art.ts'
import { number } from './barcode.ts'
import { type Ink, inkLayer, stored } from './ink.ts'
import { addText } from './lettering.ts'
import { documentOf, jobOf, named } from './make.ts'
import { addBox, addDisc, addLine, blank, type Cover, type Point } from './page.ts'

export const faultyName = 'faulty.psd'

/** A fault and the one finding that must tell of it. */
export interface Fault {
  /** What was done to the demo. */
  readonly done: string
  readonly check: CheckName
  readonly code: string
  /** Key of the finding. @param id of a layer or channel by its name */
  readonly key: (id: (name: string) => string) => string
}

const none: Ink = [0, 0, 0, 0]
const black: Ink = [0, 0, 0, 1]

export const faults: readonly Fault[] = [
  {
    done: 'four solid inks on one another',
    check: 'preflight',
    code: 'ink-total',
    key: () => 'preflight/ink-total foil',
  },
  {
    done: 'a line of 0.1 mm on bare foil',
    check: 'preflight',
    code: 'line-too-thin',
    key: id => `preflight/line-too-thin ${id('Hair')}`,
  },
  {
    done: 'a slot of 0.15 mm left open on bare foil',
    check: 'preflight',
    code: 'gap-too-thin',
    key: id => `preflight/gap-too-thin ${id('Slotted plate')}`,
  },
  {
    done: 'a layer without ink that multiplies',
    check: 'preflight',
    code: 'white-overprints',
    key: id => `preflight/white-overprints ${id('Lost white')}`,
  },
  {
    done: 'a glue zone that the sky prints over',
    check: 'preflight',
    code: 'ink-on-glue',
    key: () => 'preflight/ink-on-glue glue zone "Glue zone"',
  },
  {
    done: 'the same glue zone on transferred metal',
    check: 'preflight',
    code: 'film-on-glue',
    key: () => 'preflight/film-on-glue glue zone "Glue zone"',
  },
  {
    done: 'a sunburst on a dot of 1.2 mm',
    check: 'preflight',
    code: 'effect-too-small',
    key: id => `preflight/effect-too-small ${id('Holo glint')}`,
  },
  {
    done: 'an ink named after a processing step',
    check: 'preflight',
    code: 'separation-named-step',
    key: id => `preflight/separation-named-step ${id('Cutting')}`,
  },
  {
    done: 'a tint of 3 % of a spot ink',
    check: 'preflight',
    code: 'tint-too-light',
    key: () => 'preflight/tint-too-light Halden gold',
  },
  {
    done: 'white knocked out under a thin black bar',
    check: 'preflight',
    code: 'black-knocks-out-white',
    key: () => 'preflight/black-knocks-out-white',
  },
  {
    done: 'art that ends at the cut of the carton',
    check: 'preflight',
    code: 'bleed-short',
    key: () => 'preflight/bleed-short front',
  },
  {
    done: 'text marked 1 mm from the crease',
    check: 'preflight',
    code: 'outside-safe-zone',
    key: () => 'preflight/outside-safe-zone mark Batch',
  },
  {
    done: 'a spot ink without white',
    check: 'white',
    code: 'white-lacking',
    key: () => 'white/lacking spot Halden gold',
  },
  {
    done: 'white over the crease of the bottom, for a plant that allows little there',
    check: 'white',
    code: 'white-over-crease',
    key: () => 'white/crease bottom lid',
  },
  {
    done: 'a ring of holography that ends where its white does',
    check: 'register',
    code: 'foil-halo',
    key: () => 'register holography white 90 40',
  },
  {
    done: 'a client who wants no holography hidden',
    check: 'accounting',
    code: 'holography-hidden',
    key: () => 'accounting hidden front',
  },
  {
    done: 'a thin tint of white under the bar code',
    check: 'codes',
    code: 'code-on-foil',
    key: () => `codes/EAN-13/${number}/code-on-foil`,
  },
  {
    done: 'a code marked where none is',
    check: 'codes',
    code: 'code-unread',
    key: () => 'codes/marked/Tracking code',
  },
  {
    done: 'no white where that code is marked',
    check: 'white',
    code: 'white-lacking',
    key: () => 'white/lacking mark Tracking code',
  },
  {
    done: 'text of 3 pt',
    check: 'legibility',
    code: 'type-too-small',
    key: () => 'legibility type-too-small mark Lot',
  },
  {
    done: 'the sunburst on that dot, for a client who wants nothing 50 times as bright as paper',
    check: 'glare',
    code: 'glare-worst',
    key: () => 'glare-worst area Holo glint 6',
  },
]

/** The layered file: the demo's without clouds, its tints even, so that it is small; and what is planted. */
export function makeFaultyArt(): Uint8Array {
  const doc = documentOf(planted(drawArt()))
  const spot = (name: string, values: Ink, cover: Cover) => ({
    name,
    kind: 'spot' as const,
    ink: { space: 'CMYK' as const, values },
    solidity: 0,
    data: Uint8Array.from(cover, stored),
  })
  return writePsd({
    ...doc,
    realComposite: false,
    channels: [
      ...doc.channels,
      spot('Cutting', [0, 1, 0, 0], box([7.1, 42.1, 7.9, 42.9])),
      spot('Halden gold', [0.2, 0.4, 0.9, 0], gold()),
    ],
  })
}

/** The job beside it. */
export async function makeFaultyJob(bytes: Uint8Array): Promise<string> {
  const { art } = await readArt(memorySource(faultyName, bytes))
  return jobText(jobEdits(art).reduce((job: Job, edit) => edit(job), jobOf(art, bytes)))
}

function jobEdits(art: Art): readonly ((job: Job) => Job)[] {
  const layer = (name: string) => ({ kind: 'layer', id: named(art.layers, name).id }) as const
  const channel = (name: string) =>
    ({ kind: 'channel', id: art.channels.find(one => one.name === name)!.id }) as const
  const mark = (name: string, kind: string, [leftMm, bottomMm, rightMm, topMm]: Box) =>
    putMark({ name, kind, shape: { kind: 'box', box: { leftMm, bottomMm, rightMm, topMm } } })
  return [
    job => setCarton(cartonFor(job.panel))(job),
    setRole(channel('Cutting'), 'spotInk', null),
    setRole(layer('Glue zone'), 'glueZone', null),
    setRole(layer('Holo glint'), 'holography', { from: 'alpha' }),
    setEffect(layer('Holo glint'), { kind: 'radial', parameters: { pitchNm: 900 } }),
    setRole(layer('Holo seal'), 'holography', { from: 'alpha' }),
    setEffect(layer('Holo seal'), { kind: 'plain', parameters: { pitchNm: 1000 } }),
    mark('Batch', 'text', [0.9, 58, 2.7, 64]),
    mark('Tracking code', 'code', [6, 98, 14, 103]),
    mark('Lot', 'text', [77.8, 33, 84, 34.8]),
    setLimit('white.creaseHits', 0.8, 'plant: this board cracks'),
    setLimit('glare-luminance', 50, 'client: nothing is to dazzle more'),
    setLimit('accounting.hidden-share', 0, 'client: all that is paid for is to be seen'),
  ]
}

type Box = readonly [left: number, bottom: number, right: number, top: number]

function planted({ layers, white, cut }: DemoArt): DemoArt {
  return {
    layers: layers.map(layer => {
      switch (layer.name) {
        case 'Holography':
          return withMore(layer, [
            inkLayer('Holo glint', disc([18.5, 38], 0.6), none),
            inkLayer('Holo seal', disc([90, 40], 2.4), none),
          ])
        case 'Overprint':
          return withMore(leaner(layer), plantedPrint())
        default:
          return layer
      }
    }),
    white: plantedWhite(white),
    cut,
  }
}

function plantedPrint(): readonly PsdLayer[] {
  return [
    inkLayer('Night seal', box([6, 31, 9, 34]), [1, 1, 1, 1]),
    inkLayer('Hair', line([11, 32.5], [15, 32.5], 0.1), black),
    inkLayer('Slotted plate', slotted(), [1, 0.6, 0, 0]),
    inkLayer('Lost white', box([6, 36, 9, 39]), none, { blend: 'mul ' }),
    inkLayer('Glue zone', box([11.5, 36.5, 14.5, 39.5]), [0, 1, 0, 0]),
    inkLayer('Card', box(card), none),
    inkLayer('Card bar', line([79, 31.3], [87, 31.3], 0.5), black),
    inkLayer('Lot number', small(), black),
  ]
}

/** A little paper on the foil. */
const card: Box = [77, 30, 89, 35.4]

/** A tint of white under the code, none under the bar of the card; white under the card, and under the seal to its very edge. */
function plantedWhite(white: Cover): Cover {
  const [code, paper, bar, seal] = [
    box(patch, 1.2),
    box(card),
    line([79, 31.3], [87, 31.3], 0.5),
    disc([90, 40], 2.4),
  ]
  return white.map((share, i) =>
    Math.min(1 - 0.65 * code[i]!, Math.max(share, Math.min(paper[i]!, 1 - bar[i]!), seal[i]!)),
  )
}

function gold(): Cover {
  const cover = box([11.5, 41, 14.5, 44])
  const tint = box([16, 41, 18.5, 43.5])
  return cover.map((share, i) => Math.max(share, 0.03 * tint[i]!))
}

function slotted(): Cover {
  const slot = box([18.4, 31.6, 18.55, 33.4])
  return box([16.5, 31, 20.5, 34]).map((share, i) => share * (1 - slot[i]!))
}

function small(): Cover {
  const cover = blank()
  addText(cover, { text: 'Lot 12 2026', face: 'small', size: 1.05, at: [78.4, 33.6], tracking: 0.05 })
  return cover
}

function withMore(group: PsdLayer | PsdGroup, more: readonly PsdLayer[]): PsdGroup {
  if (!('children' in group)) throw new RangeError(`faulty: expected a group, got layer "${group.name}"`)
  return { ...group, children: [...group.children, ...more] }
}

/** Without clouds, and with tints of one tone. */
function leaner(layer: PsdLayer | PsdGroup): PsdLayer | PsdGroup {
  if ('children' in layer)
    return { ...layer, children: layer.children.filter(one => one.name !== 'Clouds').map(leaner) }
  const ink = even[layer.name]
  if (ink === undefined) return layer
  const { planes } = layer
  const size = (layer.box.right - layer.box.left) * (layer.box.bottom - layer.box.top)
  const plane = (share: number) => new Uint8Array(size).fill(stored(share))
  const [c, m, y, k] = ink
  return { ...layer, planes: { [-1]: planes[-1]!, 0: plane(c), 1: plane(m), 2: plane(y), 3: plane(k) } }
}

const even: Readonly<Record<string, Ink>> = { Sky: [0.9, 0.7, 0, 0.2], 'Lens coating': [0.36, 0.2, 0.1, 0] }

function box([x0, y0, x1, y1]: Box, corner = 0.01): Cover {
  const cover = blank()
  addBox(cover, [x0, y0, x1, y1], corner)
  return cover
}

function disc(at: Point, r: number): Cover {
  const cover = blank()
  addDisc(cover, at, r)
  return cover
}

function line(from: Point, to: Point, thickness: number): Cover {
  const cover = blank()
  addLine(cover, from, to, thickness)
  return cover
}
