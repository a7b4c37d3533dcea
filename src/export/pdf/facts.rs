//! What a PDF says about itself: title, author, language, how to open it.

use lopdf::{Document, Object, Stream, dictionary, text_string};

use crate::sheet::model::SheetSet;

use super::super::xml::escaped;

/// The name that the files give as their maker.
pub const PRODUCER: &str = concat!("Clothwright ", env!("CARGO_PKG_VERSION"));

/// Writes the information dictionary, the XMP packet, the page labels and the viewer's wishes.
///
/// # Errors
/// When the document has no catalog.
pub fn add(document: &mut Document, set: &SheetSet) -> lopdf::Result<()> {
    let mut info = dictionary! {
        "Title" => text_string(&set.title),
        "Creator" => text_string(PRODUCER),
        "Producer" => text_string(PRODUCER),
    };
    if !set.author.is_empty() {
        info.set("Author", text_string(&set.author));
    }
    if !set.date.is_empty() {
        info.set("CreationDate", Object::string_literal(format!("D:{}", set.date.replace('-', ""))));
    }
    let info = document.add_object(info);
    document.trailer.set("Info", info);

    let mut packet =
        Stream::new(dictionary! { "Type" => "Metadata", "Subtype" => "XML" }, xmp(set).into_bytes());
    // Readers that look for the packet without parsing the file must find it plain.
    packet.allows_compression = false;
    let packet = document.add_object(packet);

    let catalog = document.catalog_mut()?;
    catalog.set("Metadata", packet);
    catalog.set("Lang", text_string("en"));
    catalog.set("PageLayout", "SinglePage");
    catalog.set("PageMode", "UseOutlines");
    catalog.set("ViewerPreferences", dictionary! { "DisplayDocTitle" => true, "PrintScaling" => "None" });
    catalog.set("PageLabels", dictionary! { "Nums" => vec![0.into(), dictionary! { "S" => "D" }.into()] });
    Ok(())
}

fn xmp(set: &SheetSet) -> String {
    let title = escaped(&set.title);
    let author = escaped(&set.author);
    let creator = if author.is_empty() {
        String::new()
    } else {
        format!("<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>")
    };
    let created = if set.date.is_empty() {
        String::new()
    } else {
        format!("<xmp:CreateDate>{}</xmp:CreateDate>", escaped(&set.date))
    };
    format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\
         <rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\
         <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" \
         xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\">\
         <dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{title}</rdf:li></rdf:Alt></dc:title>{creator}\
         <pdf:Producer>{PRODUCER}</pdf:Producer><xmp:CreatorTool>{PRODUCER}</xmp:CreatorTool>{created}\
         </rdf:Description></rdf:RDF></x:xmpmeta><?xpacket end=\"r\"?>"
    )
}
