/**
 * What the shells may rely on: the trade, the optics and the colour, without screens, disks or processes.
 * Inside the repository files import each other directly; a name that is not here may change without notice.
 */

export { compositeStrips } from './art/composite.ts'
export { compositeDifference, differenceFinding } from './art/composite-difference.ts'
export type { Art, ArtFile, Box, Channel, InkColor, Layer } from './art/layer.ts'
export { readArt } from './art/read.ts'
export { BadInput, type Finding } from './base/finding.ts'
export type { ByteSource } from './base/source.ts'
export { Cancelled, checkCancelled, type Task } from './base/task.ts'
export { displayColor, displayTransform } from './color/display.ts'
export { gamutSlack, gamutSteps } from './color/gamut.ts'
export { xyzToLab } from './color/lab.ts'
export type { Matrix3 } from './color/matrix.ts'
export { oklabToRoots, rootsToOklab } from './color/oklab.ts'
export { openColorEngine } from './color/profile.ts'
export { curve, type Gamut } from './color/rgb.ts'
export { firstWavelength, lastWavelength } from './color/spectrum.ts'
export { judgedWeights, knee } from './color/tone.ts'
export type { XYZ } from './color/xyz.ts'
export { legendOf, type Stop } from './effects/coded.ts'
export type { EffectChoice, EffectControl, EffectSpec } from './effects/effect.ts'
export { effectKind, effectKinds } from './effects/kinds.ts'
export { azimuthControl, pitchControl, validatedPitch } from './effects/parameters.ts'
export { writePng } from './export/png.ts'
export type { BuiltMap, ImportedArt } from './host/art.ts'
export { type Bridge, type Command, commands } from './host/bridge.ts'
export type { About, Handlers, Host } from './host/contract.ts'
export { dispatch } from './host/dispatch.ts'
export type { FileRef } from './host/file-ref.ts'
export type { OpenedJob } from './host/files.ts'
export type { Picture } from './host/picture.ts'
export { cancelledCode, type Reply } from './host/reply.ts'
export { decodeWire, encodeWire } from './host/wire.ts'
export { type ArtChange, artChange, artChangeFinding, changeLines } from './job/art-change.ts'
export { jobFindings } from './job/compare.ts'
export {
  clearEffect,
  clearRole,
  clearWhite,
  forgetWord,
  putPath,
  removePath,
  sameTarget,
  setBoard,
  setEffect,
  setLight,
  setPanel,
  setRole,
  setStanding,
  setWhite,
  teachWord,
} from './job/edit.ts'
export type { Job, LampPath, LampPose, PanelPose } from './job/job.ts'
export { parseMaterial } from './job/material-file.ts'
export { assumptions, newJob } from './job/new.ts'
export { checkJob, jobText, parseJob } from './job/parse.ts'
export { frameTimes, isClosed, pathLength, type Standpoint, samplePath } from './job/path.ts'
export { type Looking, lookingFrom, type PlaceDeg, type Probe, probe, surroundOf } from './job/probe.ts'
export { type ProbeSum, probeSum } from './job/probe-sum.ts'
export { type MetArt, metAgain, relinkArt } from './job/relink.ts'
export { type SeenArt, type SeenPart, seenArt } from './job/seen.ts'
export { checkStanding } from './job/standing.ts'
export { buildMap } from './material/build.ts'
export type { Press } from './material/inks.ts'
export { kappaScale, type MapPlane, type MaterialMap, type PlaneData, spreadScale } from './material/map.ts'
export { pyramid } from './material/mip.ts'
export { PlaneReader } from './material/plane.ts'
export { assumedWhite } from './material/plates.ts'
export { stackAt } from './material/sample.ts'
export { tileSide } from './material/tiles.ts'
export { type Baking, bakeTables } from './optics/bake.ts'
export type { Table } from './optics/coordinate.ts'
export { smithFit } from './optics/gloss.ts'
export type { Stack } from './optics/matter.ts'
export { roomFloor, type Surround } from './optics/room.ts'
export { type Board, defaultBoard, type IlluminantName } from './optics/scene.ts'
export {
  bandReach,
  bandSamples,
  bandStep,
  capRows,
  capStep,
  depthColumns,
  grooveRows,
  inkColumns,
  kernelReach,
  maxOpticalDepth,
  maxOrder,
  maxPhase,
  orderRows,
  phaseColumns,
  primaryCount,
  slants,
  type Tables,
} from './optics/tables.ts'
export { surfaceInside } from './optics/white.ts'
export { bakingOf, bakingsOf, sceneWhite } from './reference/baking.ts'
export {
  type Camera,
  cameraRays,
  frameCamera,
  panelPoint,
  pixelSteps,
  wholeView,
  type Zoom,
} from './reference/camera.ts'
export { displayPicture, surroundCode } from './reference/display-picture.ts'
export { type Light, lightOf } from './reference/light.ts'
export { type Standing, stand, toTable, type Vec3 } from './reference/pose.ts'
export { type PictureSize, renderTile, type Tile } from './reference/render.ts'
export type { Scene } from './reference/scene.ts'
export { totalLux } from './reference/scene.ts'
export { gratingLimit, nothing } from './reference/shade.ts'
export { readAmount } from './roles/amount.ts'
export { assignRoles } from './roles/assign.ts'
export { justThese, leavesOf, reachOf } from './roles/members.ts'
export { type Amount, type Assigned, type RoleName, roleNames, type Target } from './roles/role.ts'
export { type AmountSuggestion, suggestAmount } from './roles/suggest.ts'
export { type Rgb, rgbReader } from './roles/tone.ts'
