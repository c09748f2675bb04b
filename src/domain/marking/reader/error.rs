//! Why the trained reader cannot be had, or gave no reading.

/// Why there is no reader, or no reading.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ReaderError {
    /// The weights are cut, damaged or of another program.
    #[error("the reader’s weights cannot be used: {0}")]
    Weights(String),
    /// The list of words does not fit the weights.
    #[error("the reader’s list of words cannot be used: {0}")]
    Vocabulary(String),
    /// The network failed on an answer.
    #[error("the reader broke off: {0}")]
    Run(String),
}
