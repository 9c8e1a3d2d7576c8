import { onePage, type PdfText } from '../pdf-write.ts'
import { box, circle, cmykGroup, deviceN, rgbGroup, separation, spots } from './spaces.ts'

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

  'soft images that knock out': () =>
    onePage(pdf => {
      const soft = pdf.stream(
        '/Type /XObject /Subtype /Image /Width 2 /Height 1 /ColorSpace /DeviceGray /BitsPerComponent 8',
        Uint8Array.of(64, 192),
      )
      const image = pdf.stream(
        `/Type /XObject /Subtype /Image /Width 1 /Height 1 /ColorSpace /DeviceCMYK /BitsPerComponent 8 /SMask ${soft}`,
        Uint8Array.of(0, 200, 40, 0),
      )
      const mask = group(pdf, '/CS /DeviceGray /I true', `0.5 g ${box(0, 0, 180, 120)}`)
      const knocking = group(
        pdf,
        '/I true /K true',
        `0.6 0.1 0 0 k ${box(10, 10, 70, 50)} /W cs 0.8 scn ${box(10, 60, 70, 50)} q 60 0 0 80 20 20 cm /Im Do Q`,
        `/XObject << /Im ${image} >>`,
      )
      return {
        page: cmykGroup,
        resources: `/ColorSpace << ${spots} >> /XObject << /K ${knocking} /Im ${image} >> /ExtGState << /M << /SMask << /S /Luminosity /G ${mask} >> >> >>`,
        content: [
          `0 0 0.5 0.1 k ${box(0, 20, 180, 50)} /H cs 0.6 scn ${box(0, 70, 180, 20)} /K Do`,
          // A mask of its own takes the place of the one that there is.
          'q /M gs 70 0 0 90 100 15 cm /Im Do Q',
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

  'a page blended in RGB': () =>
    onePage(pdf => ({
      page: rgbGroup,
      resources: `/ColorSpace << ${spots} /K ${separation('Black', [0, 0, 0, 1])} /N ${deviceN(pdf, ['Cyan', 'White'])} /Lab [/Lab << /WhitePoint [0.9642 1 0.8249] /Range [-128 127 -128 127] >>] >> /ExtGState << ${alpha} /Mul << /BM /Multiply >> /Lum << /BM /Luminosity >> >>`,
      content: [
        `0 0 0 1 k ${box(0, 60, 30, 60)} 1 0.3 0 rg ${box(30, 60, 30, 60)} /W cs 0.6 scn ${box(60, 60, 30, 60)}`,
        `0.5 g ${box(90, 60, 30, 60)} /K cs 0.5 scn ${box(120, 60, 30, 60)} /N cs 0.5 0.7 scn ${box(150, 60, 30, 60)}`,
        `/Half gs 0.1 0.4 0.9 rg ${box(5, 90, 170, 20)} 0.4 0.3 0 0.1 k ${box(5, 65, 170, 10)}`,
        `/Full gs /Lab cs 60 40 -30 scn ${box(0, 0, 60, 50)} /Mul gs 0.9 0.8 0.3 rg ${box(10, 5, 70, 20)}`,
        `/Lum gs 0.2 0.3 0.4 rg ${box(10, 30, 70, 15)} /Mul gs /W cs 0.5 scn ${box(90, 5, 60, 40)} /H cs 0.4 scn ${box(100, 15, 70, 20)}`,
      ].join('\n'),
    })),

  'groups blended in RGB': () =>
    onePage(pdf => {
      const marks = [
        `0.4 0.1 0 0.1 k ${box(10, 10, 60, 60)} /W cs 0.8 scn ${box(40, 30, 60, 60)}`,
        `/Half gs 0.9 0.2 0.4 rg ${box(30, 50, 50, 50)}`,
      ].join('\n')
      const lit = group(pdf, '/CS /DeviceRGB /I true', marks)
      // What is not isolated blends in the colours around it, whatever it names.
      const open = group(pdf, '/CS /DeviceRGB', marks)
      const inner = group(pdf, '/CS /DeviceCMYK /I true', marks)
      const around = group(
        pdf,
        '/CS /DeviceRGB /I true',
        `0.2 0.6 0.3 rg ${box(0, 0, 70, 60)} q /Half gs /In Do Q`,
        `/XObject << /In ${inner} >>`,
      )
      return {
        page: cmykGroup,
        resources: `/ColorSpace << ${spots} >> /ExtGState << ${alpha} >> /XObject << /L ${lit} /O ${open} /A ${around} >>`,
        content: [
          `0 0 0.5 0.1 k ${box(0, 20, 180, 50)} /H cs 0.6 scn ${box(0, 70, 180, 20)}`,
          'q 0.6 0 0 0.9 0 5 cm /L Do Q q 0.6 0 0 0.9 60 5 cm /O Do Q',
          'q /Third gs 0.6 0 0 0.9 115 10 cm /A Do Q',
        ].join('\n'),
      }
    }),

  'pictures and patterns blended in RGB': () =>
    onePage(pdf => {
      const ramp = `<< /ShadingType 2 /ColorSpace /DeviceRGB /Coords [0 0 90 0] /Function << /FunctionType 2 /Domain [0 1] /C0 [1 0.2 0] /C1 [0.1 0.4 0.9] /N 1 >> /Extend [true true] >>`
      const tile = pdf.stream(
        `/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 20 20] /XStep 20 /YStep 20 /Resources << /ColorSpace << ${spots} >> >>`,
        // No spot ink: the reference of the tests drops those of cells here.
        `0 0.5 0.5 rg ${box(0, 0, 10, 20)} 0.9 0.4 0.6 rg ${box(10, 0, 10, 10)}`,
      )
      const image = pdf.stream(
        '/Type /XObject /Subtype /Image /Width 2 /Height 2 /ColorSpace /DeviceRGB /BitsPerComponent 8',
        Uint8Array.of(255, 40, 0, 20, 200, 60, 90, 90, 240, 128, 128, 128),
      )
      return {
        page: rgbGroup,
        resources: `/ColorSpace << ${spots} >> /ExtGState << ${alpha} >> /Shading << /S ${ramp} >> /Pattern << /T ${tile} >> /XObject << /I ${image} >>`,
        content: [
          `q 0 60 90 60 re W n /S sh Q /Pattern cs /T scn ${box(90, 60, 80, 60)}`,
          `q 60 0 0 50 10 5 cm /I Do Q /W cs 0.3 scn ${box(90, 5, 80, 30)}`,
          `/Half gs 0.9 0.9 0.2 rg ${box(20, 20, 130, 80)}`,
        ].join('\n'),
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
