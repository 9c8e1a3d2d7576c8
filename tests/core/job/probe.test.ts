import { describe, expect, test } from 'vitest'
import { xyzToLab } from '../../../core/color/lab.ts'
import { encode } from '../../../core/color/rgb.ts'
import { illuminantWhite } from '../../../core/color/spectrum.ts'
import { setStanding } from '../../../core/job/edit.ts'
import { parseMaterial } from '../../../core/job/material-file.ts'
import { type Looking, lookingFrom, probe } from '../../../core/job/probe.ts'
import { defaultBoard } from '../../../core/optics/scene.ts'
import { plainJob } from '../../support/job.ts'

const display = { exposureStops: 0, adapt: true }
const material = (value: object) => parseMaterial(JSON.stringify(value), 'spot.json')
const foil = (pitchNm: number, azimuthDeg = 90) =>
  material({
    grating: { pitchNm, azimuthDeg, grooveDepthNm: 60, shape: 'sinusoid', share: 1 },
    white: null,
    cmyk: [0, 0, 0, 0],
  })
const from = (elevationDeg: number): Looking => ({
  lamp: { azimuthDeg: 90, elevationDeg, distanceMm: 400, diameterMm: 4 },
  eye: { azimuthDeg: 0, elevationDeg: 90, distanceMm: 400 },
  illuminant: 'D65',
})
const at = (stack: ReturnType<typeof foil>, looking: Looking) =>
  probe(stack, looking, defaultBoard, display, null)

describe('probe', () => {
  // Grating equation, eye straight on: m λ = d cos(elevation). Halliday, Resnick & Walker, chapter 36.
  test.each([
    [1000, 60, 1, 500],
    [1000, 45, 1, 707.107],
    [2000, 60, 2, 500],
    [1428.571, 60, 1, 714.286],
  ])('%f nm, lamp at %i°: order %i at %f nm', (pitch, elevation, m, wavelength) => {
    const order = at(foil(pitch), from(elevation)).orders.find(one => one.m === m)
    expect(Math.abs(order!.wavelengthNm - wavelength)).toBeLessThan(1e-3)
  })

  test('the parts add up', () => {
    const found = at(foil(1000), from(60))
    found.XYZ.forEach((value, i) => {
      const parts = [found.diffractedXYZ, found.mirrorXYZ, found.hazeXYZ, found.glossXYZ, found.diffuseXYZ]
      expect(value).toBeCloseTo(
        parts.reduce((sum, part) => sum + part[i]!, 0),
        12,
      )
      const orders = found.orders.reduce((sum, order) => sum + order.XYZ[i]!, 0)
      expect(orders).toBeCloseTo(found.diffractedXYZ[i]!, 9)
    })
  })

  test('Lab is against the lamp’s own white', () => {
    const found = probe(foil(1000), { ...from(60), illuminant: 'A' }, defaultBoard, display, null)
    expect(found.Lab).toEqual(xyzToLab(found.XYZ, illuminantWhite('A')))
  })

  test('one stop more is twice the light, up to paper white', () => {
    const board = material({ grating: null, white: { coverage: 1, opacity: 1, hits: 1 }, cmyk: [0, 0, 0, 1] })
    const dark = probe(board, from(60), defaultBoard, { ...display, exposureStops: 0 }, null)
    const bright = probe(board, from(60), defaultBoard, { ...display, exposureStops: 1 }, null)
    // Nearly neutral ink: its luminance is shown at 0.8 of the display's, once and twice.
    expect(dark.sRGB[1]).toBeCloseTo(encode(0.8 * dark.XYZ[1]), 1)
    expect(bright.sRGB[1]).toBeGreaterThan(dark.sRGB[1])
  })
})

describe('lookingFrom', () => {
  const panel = plainJob.panel
  const middle = [panel.widthMm / 2, panel.heightMm / 2] as const

  test('in the middle of the untilted panel lamp and eye stand where the job says', () => {
    const { lamp, eye, illuminant } = lookingFrom(plainJob, panel, ...middle)
    expect(lamp.azimuthDeg).toBeCloseTo(90, 9)
    expect(lamp.elevationDeg).toBeCloseTo(60, 9)
    expect(lamp.distanceMm).toBeCloseTo(500, 9)
    expect(eye).toMatchObject({ elevationDeg: 90, distanceMm: 400 })
    expect(illuminant).toBe('D65')
  })

  test('from a corner the eye stands off to the other side', () => {
    // Right triangle of 50.8, 25.4 and 400 mm.
    const { eye } = lookingFrom(plainJob, panel, 0, 0)
    const flat = Math.hypot(panel.widthMm / 2, panel.heightMm / 2)
    expect(eye.distanceMm).toBeCloseTo(Math.hypot(flat, 400), 9)
    expect(eye.azimuthDeg).toBeCloseTo((Math.atan2(panel.heightMm, panel.widthMm) * 180) / Math.PI, 9)
  })

  test('a panel tilted towards the lamp sees it straighter', () => {
    const tilted = setStanding(plainJob.light.lamps[0].pose, {
      tiltForwardDeg: -20,
      tiltSideDeg: 0,
      turnDeg: 0,
    })(plainJob)
    const away = lookingFrom(tilted, panel, ...middle)
    expect(away.lamp.elevationDeg).toBeCloseTo(40, 9)
    expect(away.eye.elevationDeg).toBeCloseTo(70, 9)
  })

  test('a panel turned away from the lamp is refused when probed', () => {
    const tilted = setStanding(plainJob.light.lamps[0].pose, {
      tiltForwardDeg: -80,
      tiltSideDeg: 0,
      turnDeg: 0,
    })(plainJob)
    expect(() => at(foil(1000), lookingFrom(tilted, panel, ...middle))).toThrow('not on the print side')
  })
})
