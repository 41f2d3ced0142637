// The build sheet: its pages stand in the document, for the browser's print alone.

const sheet = document.getElementById('sheet'), sheetStyle = new CSSStyleSheet();
document.adoptedStyleSheets = [sheetStyle];
let pictureOfHead = '';

export function keepPicture(rgb, width, height) {
    const aside = document.createElement('canvas'), image = new ImageData(width, height);
    for (let from = 0, to = 0; from < rgb.length; from += 3, to += 4) {
        image.data.set(rgb.subarray(from, from + 3), to);
        image.data[to + 3] = 255;
    }
    aside.width = width;
    aside.height = height;
    aside.getContext('2d').putImageData(image, 0, 0);
    pictureOfHead = aside.toDataURL();
}

// Letters as they were measured: parentheses from the other font, as B612's are all but square.
async function giveFonts() {
    const folder = '/usr/share/fonts/', round = 'U+28-29';
    const fonts = [['opentype/b612/B612-Regular.otf', 'normal', 'U+0-27, U+2A-10FFFF'], ['opentype/b612/B612-Bold.otf', 'bold', 'U+0-27, U+2A-10FFFF'],
        ['truetype/dejavu/DejaVuSans.ttf', 'normal', round], ['truetype/dejavu/DejaVuSans.ttf', 'bold', round]];
    for (const [file, weight, unicodeRange] of fonts)
        document.fonts.add(await new FontFace('Sheet', Module.FS.readFile(folder + file), {weight, unicodeRange}).load());
    document.fonts.add(await new FontFace('Sheet Others', Module.FS.readFile(folder + fonts[2][0])).load());
}

export async function printSheet(svg, paper) {
    await (giveFonts.given = giveFonts.given || giveFonts());
    sheet.innerHTML = svg;
    for (const image of sheet.querySelectorAll('image')) image.setAttribute('href', pictureOfHead);
    sheetStyle.replaceSync(`@page { size: ${paper}; margin: 0 }`);
    setTimeout(print);
}
