import { fillSamples } from '../art/composite.ts'
import type { Art, ArtFile, Box, DocumentPath, InkColor, Layer } from '../art/layer.ts'
import { plainLayer, plainMask } from '../art/plain-layer.ts'
import type { Finding } from '../base/finding.ts'
import { assignRoles, type RoleRules } from './assign.ts'
import type { RoleName } from './role.ts'

/** Parts that an outline alone can play. A die is read from its paths itself. */
const pathRoles: ReadonlySet<RoleName> = new Set([
  'holography',
  'emboss',
  'white',
  'varnish',
  'foilStamp',
  'glueZone',
  'codingArea',
])

const noRules: RoleRules = { aliases: [], choices: [] }

/**
 * Art in which saved paths that are called after an area are that area: each a hidden layer above the others, drawn by its
 * outlines. Where layers or channels play the part already the path is what they were cut by, as a rule: it is left out,
 * and that is said. The same file where it has no such paths.
 */
export function withPathAreas(file: ArtFile): ArtFile {
  const { art } = file
  const black = blackOf(art)
  if (art.paths.length === 0 || black === null || file.paintLayers !== undefined) return file
  const played = new Set(assignRoles(art, noRules).map(({ role }) => role))
  const taken = new Set(art.layers.map(({ id }) => id))
  const layers: Layer[] = []
  const findings: Finding[] = []
  for (const path of art.paths) {
    const layer = layerOf(path, art, black, taken)
    const role = layer && roleOf(layer, art)
    if (layer === null || role === null || !pathRoles.has(role)) continue
    if (played.has(role)) findings.push(leftOut(path, role))
    else {
      taken.add(layer.id)
      layers.push(layer)
    }
  }
  if (layers.length === 0 && findings.length === 0) return file
  return {
    art: { ...art, layers: [...art.layers, ...layers], findings: [...art.findings, ...findings] },
    layerPlane: (...of) => file.layerPlane(...of),
    maskPlane: id => file.maskPlane(id),
    vectorMaskPlane: id => file.vectorMaskPlane(id),
    documentPlane: (...of) => file.documentPlane(...of),
  }
}

function layerOf(
  { name, paths }: DocumentPath,
  art: Art,
  fill: InkColor,
  taken: ReadonlySet<string>,
): Layer | null {
  const box = boxOf(paths, art)
  if (box === null) return null
  let id = `path:${name}`
  for (let n = 2; taken.has(id); n++) id = `path:${name} ${n}`
  return {
    ...plainLayer({ id, name, kind: 'shape', box, channelIds: [] }),
    visible: false,
    savedPath: true,
    fill,
    vectorMask: plainMask(paths),
  }
}

const roleOf = (layer: Layer, art: Art): RoleName | null =>
  assignRoles({ ...art, layers: [layer], channels: [] }, noRules)[0]?.role ?? null

/** Black in the art's own colours; null where no plain colour can be said in them. */
function blackOf({ colorMode }: Art): InkColor | null {
  const blacks: readonly InkColor[] = [
    { space: 'CMYK', values: [0, 0, 0, 1] },
    { space: 'RGB', values: [0, 0, 0] },
    { space: 'Gray', values: [0] },
    { space: 'Lab', values: [0, 0, 0] },
  ]
  return blacks.find(black => fillSamples(black, colorMode) !== null) ?? null
}

/** Pixels around all knots and controls; null for a path without area. */
function boxOf(paths: DocumentPath['paths'], { height, resolutionPpi }: Art): Box | null {
  const perMm = (resolutionPpi ?? 72) / 25.4
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const { knots } of paths)
    for (const knot of knots)
      for (const [x, y] of [knot.in, knot.at, knot.out]) {
        left = Math.min(left, x * perMm)
        right = Math.max(right, x * perMm)
        top = Math.min(top, height - y * perMm)
        bottom = Math.max(bottom, height - y * perMm)
      }
  if (!(right > left && bottom > top)) return null
  return {
    left: Math.floor(left),
    top: Math.floor(top),
    right: Math.ceil(right),
    bottom: Math.ceil(bottom),
  }
}

const leftOut = ({ name }: DocumentPath, role: RoleName): Finding => ({
  severity: 'note',
  code: 'path-left-out',
  where: `path "${name}"`,
  message: `it is called after ${role}, which layers or channels of the art are already: it is left out`,
  fix: 'Nothing, if they are right; else keep the path as a shape layer.',
})
