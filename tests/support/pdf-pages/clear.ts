import { onePage, type PdfText } from '../pdf-write.ts'
import { box, circle, cmykGroup, spots } from './spaces.ts'

const alpha = '/Half << /ca 0.5 /CA 0.5 >> /Third << /ca 0.3 >> /Full << /ca 1 /SMask /None >>'

/** A form that is laid down as a group. */
const group = (pdf: PdfText, how: string, content: string, resources = ''): string =>
  pdf.stream(
    `/Type /XObject /Subtype /Form /BBox [0 0 180 120] /Group << /S /Transparency ${how} >> /Resources << /ColorSpace << ${spots} >> /ExtGState << ${alpha} >> ${resources} >>`,
    content,
  )

const blends = [
  ...['Multiply', 'Screen', 'Overlay', 'Darken', 'Lighten', 'ColorDodge', 'ColorBurn', 'HardLight'],
  ...['SoftLight', 'Difference', 'Exclusion'],
] as const
const wholeBlends = ['Hue', 'Saturation', 'Color', 'Luminosity'] as const

/** Pages about transparency. */
export const clearPages = {
  alpha: () =>
    onePage(() => ({
      page: cmykGroup,
      resources: `/ColorSpace << ${spots} >> /ExtGState << ${alpha} >>`,
      content: [
        `0.8 0.2 0 0 k ${box(10, 10, 100, 60)}`,
        `/W cs 1 scn ${box(60, 30, 100, 60)}`,
        `/Half gs 0 0.9 0.4 0 k ${box(30, 40, 60, 60)}`,
        `/Third gs /H cs 0.9 scn ${circle(110, 60, 35)} f`,
        '/Half gs /O CS 1 SCN 12 w 10 15 m 170 105 l S',
      ].join('\n'),
    })),

  'soft mask of alpha': () =>
    onePage(pdf => {
      const mask = group(
        pdf,
        '/I true',
        `/Half gs 0 g ${box(0, 0, 90, 120)} /Full gs 0 g ${circle(120, 60, 40)} f`,
      )
      return {
        page: cmykGroup,
        resources: `/ColorSpace << ${spots} >> /ExtGState << /M << /SMask << /S /Alpha /G ${mask} >> >> /Full << /SMask /None >> >>`,
        content: [
          `0.3 0 0 0 k ${box(10, 10, 160, 100)}`,
          `/M gs /W cs 0.9 scn ${box(20, 20, 140, 40)} 0 0.8 0.2 0 k ${box(20, 60, 140, 40)}`,
          `/Full gs /H cs 1 scn ${box(5, 5, 30, 8)}`,
        ].join('\n'),
      }
    }),

  'soft mask of luminosity': () =>
    onePage(pdf => {
      const ramp = `<< /ShadingType 2 /ColorSpace /DeviceGray /Coords [0 0 180 0] /Function << /FunctionType 2 /Domain [0 1] /C0 [0] /C1 [1] /N 1 >> /Extend [true true] >>`
      const mask = group(pdf, '/CS /DeviceGray /I true', '/Sh sh', `/Shading << /Sh ${ramp} >>`)
      const patch = group(pdf, '/CS /DeviceGray /I true', `0.25 g ${box(40, 0, 50, 120)}`)
      const turned = '<< /FunctionType 2 /Domain [0 1] /C0 [1] /C1 [0] /N 1 >>'
      return {
        page: cmykGroup,
        resources: `/ColorSpace << ${spots} >> /ExtGState << /M << /SMask << /S /Luminosity /G ${mask} >> >> /B << /SMask << /S /Luminosity /G ${patch} /BC [0.75] >> >> /T << /SMask << /S /Luminosity /G ${patch} /TR ${turned} >> >> >>`,
        content: [
          `q /M gs /W cs 1 scn ${box(5, 5, 170, 30)} Q`,
          `q /B gs 0.9 0.3 0 0 k ${box(5, 42, 170, 30)} Q`,
          `q /T gs /H cs 0.8 scn ${box(5, 80, 170, 30)} Q`,
        ].join('\n'),
      }
    }),

  'groups, isolated and not': () =>
    onePage(pdf => {
      const marks = [
        `0.7 0 0 0 k ${box(10, 10, 60, 60)} /W cs 0.8 scn ${box(40, 30, 60, 60)}`,
        `/Half gs 0 0.6 0.6 0 k ${box(30, 50, 50, 50)}`,
      ].join('\n')
      return {
        page: cmykGroup,
        resources: `/ColorSpace << ${spots} >> /ExtGState << ${alpha} >> /XObject << /I ${group(pdf, '/I true', marks)} /N ${group(pdf, '/I false', marks)} >>`,
        content: [
          `0 0 0.5 0.1 k ${box(0, 20, 180, 50)} /H cs 0.6 scn ${box(0, 70, 180, 20)}`,
          'q /Half gs 0.8 0 0 0.8 5 5 cm /I Do Q',
          'q /Half gs 0.8 0 0 0.8 90 15 cm /N Do Q',
        ].join('\n'),
      }
    }),

  'groups that knock out': () =>
    onePage(pdf => {
      const marks = [
        `0.7 0.1 0 0 k ${box(10, 10, 60, 60)}`,
        `/Half gs /W cs 0.8 scn ${box(40, 30, 60, 60)}`,
        `0 0.6 0.6 0 k ${box(30, 50, 50, 50)}`,
      ].join('\n')
      return {
        page: cmykGroup,
        resources: `/ColorSpace << ${spots} >> /ExtGState << ${alpha} >> /XObject << /I ${group(pdf, '/I true /K true', marks)} /N ${group(pdf, '/I false /K true', marks)} >>`,
        content: [
          `0 0 0.5 0.1 k ${box(0, 20, 180, 50)}`,
          'q 0.8 0 0 0.8 5 5 cm /I Do Q',
          'q 0.8 0 0 0.8 90 15 cm /N Do Q',
        ].join('\n'),
      }
    }),

  'groups in groups': () =>
    onePage(pdf => {
      const inner = group(
        pdf,
        '/I false /K true',
        `/Half gs /H cs 1 scn ${box(20, 20, 50, 70)} 0.5 0 0.5 0 k ${box(50, 40, 60, 30)}`,
      )
      const middle = group(
        pdf,
        '/I true',
        `/W cs 0.6 scn ${box(10, 50, 120, 50)} q /Half gs /In Do Q`,
        `/XObject << /In ${inner} >>`,
      )
      const outer = group(
        pdf,
        '/I false',
        `0 0.4 0 0 k ${box(5, 5, 90, 70)} q /Third gs 1 0 0 1 30 5 cm /Mid Do Q`,
        `/XObject << /Mid ${middle} >>`,
      )
      return {
        page: cmykGroup,
        resources: `/ColorSpace << ${spots} >> /ExtGState << ${alpha} >> /XObject << /Out ${outer} >>`,
        content: `0 0 0.4 0 k ${box(0, 0, 180, 60)}\nq /Half gs /Out Do Q`,
      }
    }),

  'blend modes': () =>
    onePage(() => ({
      page: cmykGroup,
      resources: `/ExtGState << ${blends.map(name => `/${name} << /BM /${name} >>`).join(' ')} >>`,
      content: [
        `0.2 0.5 0.7 0.1 k ${box(0, 40, 180, 40)} 0.6 0.3 0.1 0 k ${box(0, 80, 180, 30)}`,
        ...blends.map((name, i) => `/${name} gs 0.5 0.4 0.3 0.05 k ${box(4 + i * 16, 10, 13, 95)}`),
      ].join('\n'),
    })),

  'blend modes of whole colours': () =>
    onePage(() => ({
      page: cmykGroup,
      resources: `/ExtGState << ${wholeBlends.map(name => `/${name} << /BM /${name} >>`).join(' ')} >>`,
      content: [
        `0.2 0.5 0.7 0.1 k ${box(0, 40, 180, 40)} 0.6 0.3 0.1 0 k ${box(0, 80, 180, 30)}`,
        ...wholeBlends.map((name, i) => `/${name} gs 0.5 0.4 0.1 0.05 k ${box(8 + i * 43, 10, 35, 95)}`),
      ].join('\n'),
    })),

  'blend modes over spot inks': () =>
    onePage(() => ({
      page: cmykGroup,
      resources: `/ColorSpace << ${spots} >> /ExtGState << ${[...blends, ...wholeBlends].map(name => `/${name} << /BM /${name} >>`).join(' ')} >>`,
      content: [
        `/W cs 0.7 scn ${box(0, 40, 180, 40)} 0.2 0.5 0.7 0.1 k ${box(0, 80, 180, 30)}`,
        ...[...blends, ...wholeBlends].map(
          (name, i) => `/${name} gs /W cs 0.4 scn ${box(3 + i * 11.7, 10, 9, 95)}`,
        ),
      ].join('\n'),
    })),
}
