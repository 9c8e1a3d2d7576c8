import type { Area } from './lamp-area.ts'

/** Sides of the polygon that stands for a disc which the panel's plane cuts. */
export const roundSides = 24

/**
 * What an evenly bright outline sends to the panel: sets `light`, ∫ cosθ dω over the part above the panel, and
 * `lightCos`, the cosine to the normal of the direction from which it comes on the whole. Polygons by Lambert's
 * formula, ½ Σ β n; a disc in closed form, and where the panel's plane cuts it as a polygon of the same area.
 * Source: J. R. Howell, A Catalog of Radiation Heat Transfer Configuration Factors, B-12 and B-13 (element and disc).
 */
export function outlineLight(area: Area): void {
  if (!area.round) {
    rectangle(area)
    return
  }
  const dip = area.radius * Math.sqrt(Math.max(0, 1 - area.axisZ * area.axisZ))
  if (area.z - dip >= 0) disc(area)
  else if (area.z + dip <= 0) dark(area)
  else cutDisc(area)
}

function dark(area: Area): void {
  area.light = 0
  area.lightCos = 0
}

function disc(area: Area): void {
  const h = area.depth
  const R2 = area.radius * area.radius
  const sx = area.x - h * area.axisX
  const sy = area.y - h * area.axisY
  const sz = area.z - h * area.axisZ
  const a2 = sx * sx + sy * sy + sz * sz
  const S = h * h + a2
  const s = Math.sqrt((S + R2) * (S + R2) - 4 * a2 * R2)
  const along = (2 * Math.PI * R2 * h * h) / (s * (s + S - R2))
  // Over the offset, so that none is needed where it is 0.
  const aside = (2 * Math.PI * R2 * h) / (s * (s + S + R2))
  const z = along * area.axisZ + aside * sz
  area.light = Math.max(0, z)
  area.lightCos = Math.min(1, area.light / Math.sqrt(along * along + aside * aside * a2))
}

/** Corners, three numbers each, before and after the panel's plane has cut the outline. */
const corners = new Float64Array(3 * roundSides)
const kept = new Float64Array(3 * (roundSides + 1))

function rectangle(area: Area): void {
  for (let i = 0; i < 4; i++) {
    const a = i === 0 || i === 3 ? -1 : 1
    const b = i < 2 ? -1 : 1
    corner(area, i, a, b)
  }
  polygon(area, 4)
}

function cutDisc(area: Area): void {
  // Radius of the polygon's corners for the disc's area.
  const turn = (2 * Math.PI) / roundSides
  const size = Math.sqrt(turn / Math.sin(turn))
  for (let i = 0; i < roundSides; i++) corner(area, i, size * Math.cos(i * turn), size * Math.sin(i * turn))
  polygon(area, roundSides)
}

function corner(area: Area, i: number, a: number, b: number): void {
  corners[3 * i] = area.x + a * area.acrossX + b * area.upX
  corners[3 * i + 1] = area.y + a * area.acrossY + b * area.upY
  corners[3 * i + 2] = area.z + a * area.acrossZ + b * area.upZ
}

function polygon(area: Area, count: number): void {
  let used = 0
  for (let i = 0; i < count; i++) {
    const p = 3 * i
    const q = 3 * ((i + 1) % count)
    const pz = corners[p + 2]!
    const qz = corners[q + 2]!
    if (pz >= 0) keep(used++, corners[p]!, corners[p + 1]!, pz)
    if (pz >= 0 === qz >= 0) continue
    const t = pz / (pz - qz)
    const x = corners[p]! + t * (corners[q]! - corners[p]!)
    const y = corners[p + 1]! + t * (corners[q + 1]! - corners[p + 1]!)
    keep(used++, x, y, 0)
  }
  if (used < 3) {
    dark(area)
    return
  }
  let X = 0
  let Y = 0
  let Z = 0
  for (let i = 0; i < used; i++) {
    const p = 3 * i
    const q = 3 * ((i + 1) % used)
    const nx = kept[p + 1]! * kept[q + 2]! - kept[p + 2]! * kept[q + 1]!
    const ny = kept[p + 2]! * kept[q]! - kept[p]! * kept[q + 2]!
    const nz = kept[p]! * kept[q + 1]! - kept[p + 1]! * kept[q]!
    const size = Math.sqrt(nx * nx + ny * ny + nz * nz)
    if (size === 0) continue
    const dot = kept[p]! * kept[q]! + kept[p + 1]! * kept[q + 1]! + kept[p + 2]! * kept[q + 2]!
    const angle = Math.atan2(size, dot) / (2 * size)
    X += angle * nx
    Y += angle * ny
    Z += angle * nz
  }
  area.light = Math.abs(Z)
  area.lightCos = Math.min(1, area.light / Math.sqrt(X * X + Y * Y + Z * Z))
}

function keep(at: number, x: number, y: number, z: number): void {
  kept[3 * at] = x
  kept[3 * at + 1] = y
  kept[3 * at + 2] = z
}
