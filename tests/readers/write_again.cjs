// Reads a MusicXML file from standard input with musicxml-io and writes it again.
const { parse, serialize } = require("musicxml-io");
process.stdout.write(serialize(parse(require("fs").readFileSync(0, "utf8"))));
