import { blankArt } from '../art/blank.ts'
import type { Art } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import type { Assigned } from '../roles/role.ts'
import {
  type ArtReading,
  type FoundRole,
  type Job,
  jobFormat,
  jobVersion,
  type LampPose,
  type PanelPose,
} from './job.ts'
import { defaultPaths } from './paths.ts'
import type { SeenArt } from './seen.ts'
import { assumedPpi, newBoard, newPrint, newWhiteInk, usualLux } from './usual.ts'

const defaultMapPpi = 300
/** Pixels of the default map: above it the resolution is lowered. A user may ask for more. */
const mapPixels = 24e6

/** Where lamp and panel stand on a fresh table. */
export const defaultLamp: LampPose = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 }
export const defaultPose: PanelPose = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }

/**
 * A fresh job for a piece of art: finished size from the file's own resolution, everything else at its default.
 * @param path     of the art relative to where the job will lie, forward slashes
 * @param sha256   of the art, lower-case hexadecimal
 * @param assigned what the rules found
 * @param reading  how the art was read, where not in the usual way
 * @param seen     where its parts lie, which a later state of it is held against
 */
export function newJob(
  art: Art,
  sha256: string,
  path: string,
  assigned: readonly Assigned[],
  reading: ArtReading = {},
  seen?: SeenArt,
): Job {
  return {
    format: jobFormat,
    version: jobVersion,
    art: { path, sha256, ...reading },
    brief: '',
    carton: null,
    sketch: { whitePart: 0 },
    panel: panelOf(art),
    roles: [],
    found: foundRoles(art, assigned),
    ...(seen === undefined ? {} : { seen }),
    aliases: [],
    effects: [],
    outlines: [],
    presets: [],
    nestTurnDeg: 0,
    assets: [],
    whites: [],
    madeWhite: null,
    spots: [],
    measured: [],
    board: newBoard,
    whiteInk: newWhiteInk,
    print: newPrint,
    light: {
      lamps: [
        {
          name: 'Lamp',
          pose: defaultLamp,
          form: { kind: 'disc' },
          illuminant: 'D65',
          spectrum: null,
          lux: usualLux,
        },
      ],
      roomLevel: 0.15,
    },
    view: {
      pose: defaultPose,
      eyeDistanceMm: 400,
      exposureStops: 0,
      anchorLux: null,
      adapt: true,
      gamut: 'srgb',
      displayWhite: 'D65',
    },
    paths: defaultPaths,
    pins: [],
    limits: {},
    waivers: [],
    marked: [],
    register: {},
    variants: [],
    variant: null,
    aside: {},
  }
}

/** A fresh job for a panel of that size, mm, with no art yet: a band of white over holography. */
export function blankJob(widthMm: number, heightMm: number): Job {
  const sketch = { whitePart: 0.25 }
  const { art } = blankArt({ widthMm, heightMm, ...sketch })
  return {
    ...newJob({ ...art, resolutionPpi: art.width / (widthMm / 25.4) }, '', '', []),
    art: null,
    sketch,
    panel: { widthMm, heightMm, resolutionPpi: fitting(widthMm, heightMm) },
  }
}

/** What a job records of the rules' answer. */
export function foundRoles(art: Art, assigned: readonly Assigned[]): readonly FoundRole[] {
  const names = new Map([
    ...art.layers.map(layer => [`layer ${layer.id}`, layer.name] as const),
    ...art.channels.map(channel => [`channel ${channel.id}`, channel.name] as const),
  ])
  return assigned.map(({ target, role }) => ({
    target,
    name: names.get(`${target.kind} ${target.id}`) ?? '',
    role,
  }))
}

/** What a fresh job takes for granted about its art. */
export function assumptions(art: Art): readonly Finding[] {
  const { widthMm, heightMm } = panelOf(art)
  if (Math.max(widthMm, heightMm) > largestSheetMm)
    return [
      ...resolutionAssumed(art),
      {
        severity: 'warning',
        code: 'size-doubtful',
        where: 'document',
        message: `it is ${widthMm.toFixed(1)} × ${heightMm.toFixed(1)} mm large, and no sheet of board is`,
        fix: 'Check the unit, the scale and the page box of the art, or set the finished size by hand.',
      },
    ]
  return resolutionAssumed(art)
}

/** Longer than any sheet of carton board is printed, mm: the largest presses take some 1.2 × 1.6 m (from memory). */
const largestSheetMm = 2000

function resolutionAssumed(art: Art): readonly Finding[] {
  if (art.resolutionPpi !== null) return []
  return [
    {
      severity: 'warning',
      code: 'resolution-assumed',
      where: 'document',
      message: `the file does not state its resolution; ${assumedPpi} ppi is taken for the finished size`,
      fix: 'Set the finished size by hand.',
    },
  ]
}

function panelOf(art: Art): Job['panel'] {
  const ppi = art.resolutionPpi ?? assumedPpi
  return {
    widthMm: millimetres(art.width, ppi),
    heightMm: millimetres(art.height, ppi),
    resolutionPpi: fitting((art.width / ppi) * 25.4, (art.height / ppi) * 25.4),
  }
}

/** The usual resolution of a map, ppi, or less where the panel is large. */
function fitting(widthMm: number, heightMm: number): number {
  const most = Math.sqrt(mapPixels / ((widthMm / 25.4) * (heightMm / 25.4)))
  return Math.min(defaultMapPpi, most < 1 ? most : Math.floor(most))
}

/** To a micrometre. */
const millimetres = (pixels: number, ppi: number): number =>
  Math.max(0.01, Math.round((pixels / ppi) * 25_400) / 1000)
