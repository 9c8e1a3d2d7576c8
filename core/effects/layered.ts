import type { EffectControl, EffectKind, EffectWarning, ViewField } from './effect.ts'
import { designedLimits } from './limits.ts'
import { ParameterReader } from './parameters.ts'
import { around, grown, type Picture, type Raster, shining } from './picture.ts'
import { mostPlanes } from './view-image.ts'
import {
  countControl,
  layerId,
  readPictureViews,
  viewChoices,
  viewControls,
  viewDefaults,
} from './view-parameters.ts'

/** mm in front of the carton (+) and behind it (−) */
export const deepestPlane = 50
/** Jump of a plane from view to view, mm, from which its edges are seen double. */
const visibleJump = 1

export const ownDepthControl: EffectControl = {
  key: 'depthMm',
  label: 'In front of the carton',
  says: 'This layer’s distance from the board; below 0 it lies behind it.',
  unit: 'mm',
  min: -deepestPlane,
  max: deepestPlane,
  step: 0.5,
}

/** Layers that seem to float before and behind the carton. */
export const layered: EffectKind = {
  name: 'layered',
  title: 'Layered depth',
  says: 'Layers float in front of the carton and behind it and move against one another as the eye moves or the carton turns; what is in front covers what is behind. Two eyes see depth. Details finer than the jump of a plane from view to view blur.',
  controls: [ownDepthControl, countControl, ...viewControls],
  limits: designedLimits(
    0.5,
    'Each view has its part of the surface: more views, each darker. One such set to a place.',
  ),
  choices: viewChoices,
  defaults: { depthMm: 3, planes: [], views: 7, ...viewDefaults },
  prepare(parameters, frame) {
    const reader = new ParameterReader(layered.name, parameters, layered.defaults)
    const { design, warnings, depth, share, groove, reading, maskLayerId } = readPictureViews(
      reader,
      frame,
      reader.number(countControl),
    )
    const own = reader.number(ownDepthControl)
    const others = readPlanes(reader)
    const depths = [own, ...others.map(plane => plane.depthMm)]
    const furthest = Math.max(...depths.map(Math.abs)) * Math.tan(design.angles.at(-1)!)
    return {
      kind: 'pictures',
      groove,
      maskLayerId,
      wants: [{ from: 'own' }, ...others.map(plane => ({ from: 'layer', id: plane.layerId }) as const)],
      warnings: [...warnings, ...depthWarnings(depths, design.angles)],
      open: pictures => {
        // Nearest first; of two at one depth the one named later lies above.
        const order = depths.map((_, i) => i).sort((a, b) => depths[b]! - depths[a]! || b - a)
        const planes = order.map(i => plane(pictures[i]!, depths[i]!))
        const place = around(planes.map(({ picture }) => picture.cover.place))
        return {
          kind: 'views',
          groove,
          design,
          grooveDepth: depth,
          share,
          within: 'all',
          maskLayerId,
          place: place && grown(place, furthest),
          at: (x, y, out) => {
            for (let i = 0; i < design.angles.length; i++) {
              const tan = Math.tan(design.angles[i]!)
              out[i] = through(planes, x, y, tan * design.fanX, tan * design.fanY)
            }
            return out
          },
        } satisfies ViewField
      },
    }
    function plane(picture: Picture, depthMm: number) {
      return { picture, shines: shining(picture, reading), depthMm }
    }
  },
}

interface Plane {
  readonly picture: Picture
  readonly shines: Raster
  readonly depthMm: number
}

/**
 * Light of all planes, nearest first, on the line of sight through a place of the carton: the eye, slanted by (tx, ty)
 * mm a mm, looks at a plane z in front of the carton where it is z · (tx, ty) further along.
 */
function through(planes: readonly Plane[], x: number, y: number, tx: number, ty: number): number {
  let light = 0
  let open = 1
  for (const { picture, shines, depthMm } of planes) {
    const [px, py] = [x + depthMm * tx, y + depthMm * ty]
    light += open * shines.at(px, py)
    open *= 1 - picture.cover.at(px, py)
  }
  return light
}

function readPlanes(reader: ParameterReader): { readonly layerId: string; readonly depthMm: number }[] {
  const given = reader.get('planes')
  if (!Array.isArray(given) || given.length > mostPlanes)
    return reader.refuse(
      'planes',
      `expected at most ${mostPlanes} of {layerId, depthMm}, got ${JSON.stringify(given)}`,
      'List the other layers and how far each stands in front of the carton.',
    )
  return given.map((one: unknown, i) => {
    const { layerId: id, depthMm } = (typeof one === 'object' && one !== null ? one : {}) as Record<
      string,
      unknown
    >
    const found = layerId(reader, `planes[${i}].layerId`, id ?? null)
    if (found === null) return reader.refuse(`planes[${i}].layerId`, 'names no layer', 'Choose a layer.')
    return {
      layerId: found,
      depthMm: reader.inRange(`planes[${i}].depthMm`, depthMm, -deepestPlane, deepestPlane, 'mm'),
    }
  })
}

function depthWarnings(depths: readonly number[], angles: readonly number[]): EffectWarning[] {
  const out: EffectWarning[] = []
  if (depths.length < 2)
    out.push({
      code: 'one-plane',
      message: 'layered depth has only its own plane',
      fix: 'Add a layer at another depth.',
    })
  const last = angles.at(-1)!
  const jump = Math.max(...depths.map(Math.abs)) * (Math.tan(last) - Math.tan(angles.at(-2)!))
  if (jump > visibleJump)
    out.push({
      code: 'depth-jumps',
      message: `the deepest plane jumps ${jump.toFixed(1)} mm from view to view`,
      fix: 'Take more views, less depth or a narrower fan.',
    })
  return out
}
