//! The program's own faces, carried in the binary: for the window, and for text in a deck's drawings.

/// Source Sans 3.
pub static SANS: &[u8] = include_bytes!("../assets/fonts/SourceSans3_400Regular.ttf");
/// Source Sans 3, semibold.
pub static SANS_SEMI: &[u8] = include_bytes!("../assets/fonts/SourceSans3_600SemiBold.ttf");
/// Source Sans 3, italic.
pub static SANS_ITALIC: &[u8] = include_bytes!("../assets/fonts/SourceSans3_400Regular_Italic.ttf");
/// Source Code Pro.
pub static CODE: &[u8] = include_bytes!("../assets/fonts/SourceCodePro_400Regular.ttf");
/// Source Code Pro, medium.
pub static CODE_MEDIUM: &[u8] = include_bytes!("../assets/fonts/SourceCodePro_500Medium.ttf");
