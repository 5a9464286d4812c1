//! The document's own description in XMP (ISO 16684-1), which must say the same as its information dictionary.

use super::{Setup, Standard};

/// The packet, without any part of it left to chance or clock; `identity` follows from the document in 32 hexadecimal digits.
pub(super) fn packet(setup: &Setup, producer: &str, identity: &str) -> String {
    let info = &setup.info;
    let mut properties = String::new();
    let mut add = |text: String| properties.push_str(&text);
    add("<dc:format>application/pdf</dc:format>".into());
    if !info.title.is_empty() || setup.standard != Standard::Archive {
        add(alternative("dc:title", &info.title));
    }
    if !info.author.is_empty() {
        let author = escaped(&info.author);
        add(format!("<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>"));
    }
    if !info.subject.is_empty() {
        add(alternative("dc:description", &info.subject));
    }
    if !info.language.is_empty() {
        let language = escaped(&info.language);
        add(format!("<dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>"));
    }
    add(format!("<pdf:Producer>{}</pdf:Producer>", escaped(producer)));
    let mut names = "xmlns:xmpMM=\"http://ns.adobe.com/xap/1.0/mm/\" xmlns:pdfxid=\"http://www.npes.org/pdfx/ns/id/\"";
    if setup.standard == Standard::Archive {
        add(archived(producer));
        names = "xmlns:pdfaid=\"http://www.aiim.org/pdfa/ns/id/\"";
    } else {
        add("<pdf:Trapped>False</pdf:Trapped>".into());
    }
    if let Some(created) = info.created {
        let moment = created.iso();
        add(format!("<xmp:CreateDate>{moment}</xmp:CreateDate><xmp:ModifyDate>{moment}</xmp:ModifyDate>"));
    }
    if let Standard::X4 { .. } = setup.standard {
        let moment = info.created.map(super::Moment::iso).unwrap_or_default();
        let standard = setup.standard.name().unwrap_or_default();
        add(exchange(standard, &moment, identity));
    }
    format!(
        "<?xpacket begin=\"\u{FEFF}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\
         <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" \
         xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\" {names}>{properties}\
         </rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"r\"?>"
    )
}

/// What ISO 19005-1 asks for beside (6.7.3 and 6.7.11): the program, as the information dictionary has it, and its own name.
/// It knows no words for trapping.
fn archived(producer: &str) -> String {
    format!(
        "<xmp:CreatorTool>{}</xmp:CreatorTool><pdfaid:part>1</pdfaid:part><pdfaid:conformance>B</pdfaid:conformance>",
        escaped(producer)
    )
}

/// What ISO 15930-7 asks for beside: its own name, and which version and rendition of which document this is (from
/// memory, and from secondary sources).
fn exchange(standard: &str, moment: &str, identity: &str) -> String {
    let part = |from: usize, to: usize| identity.get(from..to).unwrap_or_default().to_lowercase();
    let uuid = [part(0, 8), part(8, 12), part(12, 16), part(16, 20), part(20, 32)].join("-");
    format!(
        "<xmp:MetadataDate>{moment}</xmp:MetadataDate><xmpMM:DocumentID>uuid:{uuid}</xmpMM:DocumentID>\
         <xmpMM:InstanceID>uuid:{uuid}</xmpMM:InstanceID><xmpMM:VersionID>1</xmpMM:VersionID>\
         <xmpMM:RenditionClass>default</xmpMM:RenditionClass>\
         <pdfxid:GTS_PDFXVersion>{standard}</pdfxid:GTS_PDFXVersion>"
    )
}

fn alternative(name: &str, text: &str) -> String {
    let text = escaped(text);
    format!("<{name}><rdf:Alt><rdf:li xml:lang=\"x-default\">{text}</rdf:li></rdf:Alt></{name}>")
}

/// Text for XML: what could be markup is written by name, what XML cannot hold becomes the replacement character.
fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\t' | '\n' => escaped.push(character),
            '\0'..='\u{1F}' | '\u{FFFE}' | '\u{FFFF}' => escaped.push('\u{FFFD}'),
            other => escaped.push(other),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::writers::pdf::DocumentInfo;

    #[test]
    fn markup_and_controls_in_a_title_stay_text() {
        let info = DocumentInfo { title: "A & B <C>\u{1}\"".into(), ..DocumentInfo::default() };
        let packet = packet(&Setup { info, ..Setup::default() }, "producer", "");
        assert!(packet.contains(">A &amp; B &lt;C&gt;\u{FFFD}&quot;<"));
        assert!(!packet.contains("CreateDate"));
    }
}
